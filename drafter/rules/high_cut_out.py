"""The compressor cuts out close to the relief valve's setting.

Why: a relief valve simmers shortly below its setting; it then leaks, wears and no longer seats.
Passes: a cut-out at or below 0.9 of the relief setting.
Fails: cut-out 9.5 bar, relief valve 10 bar.
"""

from __future__ import annotations

from collections.abc import Iterator

from drafter.finding import Finding, Severity
from drafter.rules.rule import Rule
from drafter.standards.limits import CUT_OUT_SHARE_OF_RELIEF
from drafter.supports.design import Design

RULE = Rule("PLANT002", "cut-out close to the relief setting", CUT_OUT_SHARE_OF_RELIEF.source)

_SLACK_PA = 1.0


def check(design: Design) -> Iterator[Finding]:
    site = design.network.layout.site
    plant, units = site.compressor, site.units
    most_pa = CUT_OUT_SHARE_OF_RELIEF.value * plant.relief_pa
    if plant.cut_out_pa <= most_pa + _SLACK_PA:
        return
    cut_out, most = f"{units.pressure(plant.cut_out_pa)} gauge", f"{units.pressure(most_pa)} gauge"
    yield RULE.finding(
        Severity.WARNING,
        plant.where("cut_out_pa"),
        f"the compressor cuts out at {cut_out}, above {most}, which is 0.9 of the relief valve's setting",
        measured=cut_out,
        limit=most,
        fix=f"set the pressure switch to cut out at {most} or below",
        subject="compressor",
    )
