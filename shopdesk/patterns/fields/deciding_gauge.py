"""Decides which of several gauges and tools is the pattern's main one."""

from collections.abc import Sequence

from shopdesk.answering.model.ask import STOCKINETTE
from shopdesk.craft.fabric import pattern_fabrics
from shopdesk.craft.messages import Message, message
from shopdesk.craft.tools import ToolRefused, tool_mm
from shopdesk.craft.yarn import Craft
from shopdesk.patterns.fields.deciding import (
    FieldReading,
    FieldReadings,
    Fields,
    best_of,
    less_sure,
)
from shopdesk.patterns.phrases.mentions import Mention, Span, Sureness, Tool

GAUGE_FIELDS = ("stitches", "rows", "over", "pattern", "washed")
Gauge = dict[str, Mention]


def decide_gauge(decided: FieldReadings, fields: Fields) -> None:
    """Decides the gauge as a whole; further gauges stay beside it as other readings."""
    gauges = _gauges(fields)
    if not gauges:
        return
    main = _main(gauges)
    others = [gauge for gauge in gauges if gauge is not main]
    rival = any(_same_kind(main, gauge) and not _agree(main, gauge) for gauge in others)
    for name in GAUGE_FIELDS:
        if name not in main:
            continue
        found = main[name]
        more = tuple(
            gauge[name].value
            for gauge in others
            if name in gauge and gauge[name].value != found.value
        )
        sure = found.sure
        if more and name != "pattern":
            limit = Sureness.UNCLEAR if rival else (found.sure if _clear(main) else Sureness.LIKELY)
            sure = less_sure(sure, limit)
        words = (found.span,)
        decided.add(
            FieldReading(name, found.value, sure, words, found.phrase, (*found.others, *more))
        )
    for gauge in gauges:
        for found in gauge.values():
            for each in found.says:
                decided.say(each, (found.span,))


def _gauges(fields: Fields) -> list[Gauge]:
    gauges: dict[str, Gauge] = {}
    for name in GAUGE_FIELDS:
        for found in fields.get(name, ()):
            gauges.setdefault(found.extra, {})[name] = found
    complete = [gauge for gauge in gauges.values() if "stitches" in gauge]
    return sorted(complete, key=lambda gauge: gauge["stitches"].at)


def _main(gauges: Sequence[Gauge]) -> Gauge:
    """The gauge in plain stockinette, else the one with rows, else the first."""
    return min(
        gauges,
        key=lambda gauge: (
            _pattern(gauge) != STOCKINETTE,
            _is_rib(_pattern(gauge)),
            "rows" not in gauge,
            gauge["stitches"].at,
        ),
    )


def _is_rib(pattern: str) -> bool:
    fabric = pattern_fabrics().get(pattern)
    return fabric is not None and fabric.ribs


def _pattern(gauge: Gauge) -> str:
    return str(gauge["pattern"].value) if "pattern" in gauge else ""


def _clear(gauge: Gauge) -> bool:
    return _pattern(gauge) == STOCKINETTE


def _same_kind(main: Gauge, other: Gauge) -> bool:
    return _pattern(main) == _pattern(other)


def _agree(main: Gauge, other: Gauge) -> bool:
    return all(
        main[name].value == other[name].value
        for name in ("stitches", "rows")
        if name in main and name in other
    )


def decide_tool(decided: FieldReadings, fields: Fields, *, larger_said: bool) -> None:
    """Decides the main tool: the gauge's, else not the one for ribs; else all are offered."""
    found = list(fields.get("tool", ()))
    craft = Craft.CROCHET if decided.value("craft") == "crochet" else Craft.KNIT
    groups = _by_size(found, craft)
    _say_once(decided, found)
    if not groups:
        return
    groups = _narrowed(groups, craft, larger_said)
    best = best_of(groups[0])
    others = [*best.others, *(group[0].value for group in groups[1:])]
    sure = best.sure if len(groups) == 1 else Sureness.UNCLEAR
    if len(groups) > 1:
        spans = tuple(group[0].span for group in groups)
        decided.say(message("intake.tools_several"), spans)
    all_words = tuple(dict.fromkeys(each.span for each in groups[0]))
    dropped = [
        each.value for each in found if _mm(each, craft) not in {_mm(g[0], craft) for g in groups}
    ]
    kept = tuple(dict.fromkeys([*others, *dropped]))
    decided.add(FieldReading("tool", best.value, sure, all_words, best.phrase, kept))


def _say_once(decided: FieldReadings, found: Sequence[Mention]) -> None:
    """Says what the mentions say; two phrases that read the same words say it once."""
    told: list[tuple[Message, Span]] = []
    for each in found:
        told += [(said, each.span) for said in each.says if not _is_told(told, said, each.span)]
    for said, span in told:
        decided.say(said, (span,))


def _is_told(told: Sequence[tuple[Message, Span]], said: Message, span: Span) -> bool:
    return any(
        one == said and place.start < span.end and span.start < place.end for one, place in told
    )


def _by_size(found: Sequence[Mention], craft: Craft) -> list[list[Mention]]:
    """Groups tools of the same size in mm, the metric writing first; unclear ones stand alone."""
    sizes: dict[object, list[Mention]] = {}
    for each in found:
        size = _mm(each, craft)
        sizes.setdefault(each.value if size is None else size, []).append(each)
    groups = list(sizes.values())
    known = {_mm(each, craft) for each in found if each.sure is Sureness.SURE}
    groups = [
        group
        for group in groups
        if group[0].sure is not Sureness.UNCLEAR
        or any(said.code == "intake.tool_differs" for said in group[0].says)
        or not _one_reading_known(group[0], known, craft)
    ]
    return [sorted(group, key=_metric_last) for group in groups]


def _metric_last(finding: Mention) -> bool:
    return not (isinstance(finding.value, Tool) and finding.value.system == "mm")


def _one_reading_known(finding: Mention, known: set[float | None], craft: Craft) -> bool:
    """True if one reading of a bare number is a size that is also given in mm."""
    readings = [finding.value, *finding.others]
    sizes = {_tool_mm(tool, craft) for tool in readings if isinstance(tool, Tool)}
    return bool(sizes & (known - {None}))


def _mm(finding: Mention, craft: Craft) -> float | None:
    unclear = finding.sure is Sureness.UNCLEAR
    return (
        _tool_mm(finding.value, craft) if isinstance(finding.value, Tool) and not unclear else None
    )


def _tool_mm(tool: Tool, craft: Craft) -> float | None:
    try:
        return tool_mm(tool.size, tool.system, craft)
    except ToolRefused:
        return None


def _narrowed(groups: list[list[Mention]], craft: Craft, larger_said: bool) -> list[list[Mention]]:
    """Returns the tools that may be the main one."""
    by_gauge = [group for group in groups if any(each.extra == "gauge" for each in group)]
    if len(by_gauge) == 1:
        return by_gauge
    main = [group for group in groups if not all(each.extra == "minor" for each in group)]
    named = [group for group in main if any(each.extra == "main" for each in group)]
    if len(named) == 1:
        return named
    groups = main or groups
    groups.sort(key=lambda group: -(_mm(group[0], craft) or 0))
    if larger_said and _mm(groups[0][0], craft) is not None:
        return groups[:1]
    return groups
