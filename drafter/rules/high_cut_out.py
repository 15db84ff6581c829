"""The compressor cuts out close to the relief valve's setting.

Why: a relief valve simmers shortly below its setting; it then leaks, wears and no longer seats.
Passes: a cut-out at or below 0.9 of the relief setting.
Fails: cut-out 9.5 bar, relief valve 10 bar.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding
from drafter.quantity import Kind
from drafter.rules.rule import WARNING, Rule, Threshold
from drafter.standards.limits import CUT_OUT_SHARE_OF_RELIEF
from drafter.supports.design import Design

RULE = Rule(
    "PLANT002",
    "cut-out close to the relief setting",
    CUT_OUT_SHARE_OF_RELIEF.source,
    (WARNING,),
    Threshold(CUT_OUT_SHARE_OF_RELIEF, Kind.SHARE, "of the relief valve's setting"),
)

_SLACK_PA = 1.0


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    plant, units = site.compressor, site.units
    share = RULE.limit(site)
    most_pa = share.value * plant.relief_pa
    if plant.cut_out_pa <= most_pa + _SLACK_PA:
        return
    cut_out, most = f"{units.pressure(plant.cut_out_pa)} gauge", f"{units.pressure(most_pa)} gauge"
    yield RULE.finding(
        WARNING,
        plant.where("cut_out_pa"),
        f"the compressor cuts out at {cut_out}, above {most}, which is {share.value:.2g} of the relief valve's setting",
        measured=cut_out,
        limit=most,
        fix=f"set the pressure switch to cut out at {most} or below",
        subject="compressor",
        source=share.source,
    )
