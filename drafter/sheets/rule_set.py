"""The set of rules that a drawing was held against: what it says of this tank, its panels, and the pipe's labels."""

from __future__ import annotations

from collections.abc import Iterator

from drafter.layout.graph import RunKind
from drafter.quantity import Units, duration
from drafter.sheets.markers import label_count
from drafter.site.model import KeepClear, Site
from drafter.sizing.network import Network
from drafter.sizing.ratings import hot_ratings, weakest_pipe
from drafter.standards.burst import stand_off_m
from drafter.standards.limits import Limit
from drafter.standards.rule_sets import DECIDES, RuleSet, label_size, rule_set


def rule_set_rows(network: Network) -> list[tuple[str, str, str]]:
    """Return what the site's set says here: what, what it comes to, and its source."""
    site, units = network.layout.site, network.layout.site.units
    chosen = rule_set(site.rule_set)
    plant = site.compressor
    vessel = chosen.vessel(plant.rated_pa, plant.tank_m3)
    holds = f"{units.pressure(plant.rated_pa)} x {units.volume(plant.tank_m3)}"
    if not units.imperial:
        holds += f" = {plant.rated_pa * plant.tank_m3 / 100.0:.0f} bar x litres"
    return [
        ("set of rules", f"{site.rule_set}, {chosen.title}", "rules: of the site file"),
        ("decides", DECIDES, ""),
        ("scope", _scope(network), "as the site file says"),
        (
            "designed for",
            f"{units.pressure(plant.relief_pa)} gauge, the relief valve's setting, {_warmest(network)}",
            "",
        ),
        ("piping", chosen.piping, chosen.piping_source),
        ("tank", f"{holds}: {vessel.words}", vessel.source),
        ("before electrical panels", _panel_words(site, chosen), _panel_depth(site, chosen).source),
        ("blow guns for cleaning", f"below {units.pressure(chosen.blow_gun_pa.value)}", chosen.blow_gun_pa.source),
        ("noise beside the compressor", f"read its plate: {chosen.noise}", chosen.noise_source),
        ("strength test", strength_test_words(network), chosen.strength_test.source),
        ("labels", f"{label_text(network)}: {chosen.label_colours}", chosen.label_source),
        ("their size", _label_words(network, units), "ASME A13.1"),
        ("where, how many", f"{WHERE}: {label_count(network)}, to print from labels.pdf", "ASME A13.1"),
        *(("NOT CHECKED", words, "not in the site file") for words in not_checked(network)),
    ]


def not_checked(network: Network) -> Iterator[str]:
    """Yield what the site file leaves out that people must read off plates and labels instead."""
    site, units = network.layout.site, network.layout.site.units
    relief = units.pressure(site.compressor.relief_pa)
    if site.compressor.relief_flow is None:
        delivered = units.free_air(network.supply.delivered_m3_s)
        yield f"the relief valve must pass {delivered} free air or more: read its tag"
    if any(None in (unit.rated_pa, unit.rated_to_k) for unit in site.labelled_units):
        yield (
            f"treatment units and units at outlets must be rated {relief} or more, as warm as the air that comes to "
            "them: read their labels"
        )
    if any(None in (outlet.hose.rated_pa, outlet.hose.rated_to_k) for outlet in site.outlets):
        yield f"hoses must be rated {relief} or more, as warm as the air at their outlets: read what is printed on them"
    open_line = [outlet for outlet in site.outlets if "regulator" not in outlet.units]
    if any(use.highest_pa is None for outlet in open_line for use in outlet.tools):
        yield f"tools without a regulator at their outlet get up to {units.pressure(site.line_pa)}: read their plates"
    if not site.compressor.connection or not site.compressor.connection.thread:
        yield "the tank's port is taken to be as wide as the line: look at it"
    if not any(opening.kind != "window" for opening in site.rooms[site.compressor.room].openings):
        yield f"whether V-01 is in reach of the way out: no door of {site.compressor.room} is given"
    told = {name for name, label in site.part_ratings.told if label.rated_to_k is not None}
    if open_kinds := [words for name, words in _PARTS.items() if name not in told]:
        yield f"{', '.join(open_kinds)}: {must_bear(network)}: read their marking"


_PARTS = {
    "flexible": "flexible connection",
    "valves": "valves",
    "drains": "drains",
    "couplings": "couplings",
    "fittings": "fittings and adapters",
}


def must_bear(network: Network) -> str:
    """Return what all that holds air must be rated for: the relief valve's setting, as warm as the air gets."""
    site, units = network.layout.site, network.layout.site.units
    return f"rated {units.pressure(site.compressor.relief_pa)} or more {_warmest(network)}"


def _warmest(network: Network) -> str:
    warmest_k = max(pipe.temperature_k for pipe in hot_ratings(network))
    return f"at {network.layout.site.units.temperature(warmest_k)}"


def _scope(network: Network) -> str:
    count = len(network.layout.site.outlets)
    return (
        f"compressed-air piping from the tank's connection to {count} outlet{'s' if count > 1 else ''}, "
        f"{network.material.title}; compressor set and tank come as one; electrical supply, structure, fire stopping "
        "by others"
    )


def strength_test_words(network: Network) -> str:
    """Return what a test above the working pressure comes to here, and how far people keep from it.

    Source:
        the set of rules; `drafter.standards.burst` for the distance.
    """
    site, units = network.layout.site, network.layout.site.units
    test, relief_pa = rule_set(site.rule_set).strength_test, site.compressor.relief_pa
    reached = f"{test.times:g} x {units.pressure(relief_pa)} = {units.pressure(test.times * relief_pa)}"
    weakest = weakest_pipe(network)
    rated, bears_pa = units.pressure(weakest.gauge_pa), weakest.gauge_pa
    pipe = f"weakest pipe: {weakest.size.name}, rated {rated} at {units.temperature(weakest.temperature_k)}"
    if test.times * relief_pa > bears_pa:
        pipe = f"{pipe}; NOT ABOVE {rated} unless its maker says in writing that it bears more"
    how = test.words if relief_pa <= test.beyond_pa + 500.0 else test.beyond_words
    clear = units.rough_length(stand_off_m(network.leaks.stored_energy_j))
    return (
        f"only where the local code asks for one: {reached} for {duration(test.time_s)}, {how}. Tank, hoses, "
        f"gauges and units shut off, no part above what its maker allows ({pipe}), a relief valve on the "
        "piping; with air, "
        f"everybody {clear} away"
    )


WHERE = "behind turns, on both sides of walls, along straight pipe; a tag at each valve, at each drain and at the tank"


def label_text(network: Network) -> str:
    """Return what the labels say: the air, its pressure, the way it flows."""
    site = network.layout.site
    said = f"COMPRESSED AIR {site.units.pressure(site.compressor.cut_out_pa)}"
    for part in network.leaks.before[-1:]:
        said += f", behind {part.regulator} {site.units.pressure(network.leaks.test_gauge_pa)},"
    return f"{said} with an arrow the way it flows"


def _label_words(network: Network, units: Units) -> str:
    sizes = {network.sizes[run.id] for run in network.layout.runs if run.kind is RunKind.MAIN}
    words = []
    for size in sorted(sizes, key=lambda each: each.outside_m):
        label = label_size(size.outside_m)
        field = f"{units.length_with_unit(label.field_m)} long, letters {units.length_with_unit(label.letters_m)}"
        words.append(f"{size.name}: {field if label.field_m else 'a tag'}")
    return "; ".join(words)


def _panels(site: Site) -> list[KeepClear]:
    return [keep for room in site.rooms.values() for keep in room.keep_clear if keep.kind == "electrical panel"]


def _panel_depth(site: Site, chosen: RuleSet) -> Limit:
    """The depth before the site's panels, by that of the highest voltage."""
    asked = [chosen.panel_depth_m, *(chosen.panel_depth(keep.voltage, keep.opposite) for keep in _panels(site))]
    return max(asked, key=lambda each: each.value)


def _panel_words(site: Site, chosen: RuleSet) -> str:
    units, panels, deepest = site.units, _panels(site), _panel_depth(site, chosen)
    depth, height = (units.length_with_unit(each.value) for each in (deepest, chosen.panel_height_m))
    width = f", {units.length_with_unit(chosen.panel_width_m.value)} wide" if chosen.panel_width_m.value else ""
    here = dict.fromkeys(
        f"{units.length_with_unit(keep.depth_m)} deep, {units.length_with_unit(keep.width_m)} wide, to "
        f"{units.length_with_unit(keep.above_floor_m + keep.height_m)}"
        for keep in panels
    )
    kept = f"; kept clear here: {'; '.join(here)}" if here else ""
    return f"at least {depth} deep{width}, {height} high{kept}"
