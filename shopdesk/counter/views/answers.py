"""The answer to a saved ask, and 'why not this one?' for any yarn on the shelf."""

from collections.abc import Iterator
from dataclasses import dataclass

from flask import Blueprint, redirect, render_template, request, url_for
from werkzeug.wrappers import Response

from shopdesk.answering.model.answer import Answer, Candidate, Suitability
from shopdesk.answering.shortlist.shortlist import MOST_LISTED
from shopdesk.counter.answered import answered, ask_in_visit, counted
from shopdesk.counter.pictures.gauge_ruler import gauge_ruler
from shopdesk.counter.request import shop
from shopdesk.craft import lengths
from shopdesk.services.answers import MOST_AT_ONCE, NamedYarn, judge_named
from shopdesk.slips.pattern_asks import pattern_facts
from shopdesk.wording.formatting import capital

pages = Blueprint("answers", __name__)

FIRST_OF_A_GROUP = 6
FIRST_NOT_FOR_THIS = 20
MOST_FOUND = 60


@dataclass(frozen=True, slots=True)
class ShownGroup:
    """One group as the page shows it; `more` is how many are left out for now.

    On the shelf there are `at_least` as many as are listed, where the list was cut in this group.
    """

    group: Suitability
    candidates: tuple[Candidate, ...]
    shown: tuple[Candidate, ...]
    at_least: bool = False

    @property
    def words(self) -> str:
        """The group's heading."""
        return capital(self.group.value)

    @property
    def anchor(self) -> str:
        """The id of the group's heading."""
        return self.group.name.lower().replace("_", "-")

    @property
    def suits(self) -> bool:
        """Whether its yarns may be chosen without further talk."""
        return self.group is not Suitability.NOT_FOR_THIS

    @property
    def more(self) -> int:
        """How many of its yarns are not shown."""
        return len(self.candidates) - len(self.shown)


@pages.get("/asks/<token>")
def answer(token: str) -> str:
    """Shows the whole answer; `?all=1` leaves no yarn out.

    Of a large shelf `?most=24` lists more, and `?count=1` counts all that would do.
    """
    most = _most_wanted(request.args.get("most", ""))
    made = answered(token, most)
    cut = made.answer.cut
    return render_template(
        "answer.html",
        made=made,
        saved=made.saved,
        asked=pattern_facts(made.saved.ask),
        groups=list(_groups(made.answer, everything="all" in request.args)),
        judged_whole=bool(made.answer.in_group(Suitability.NOT_FOR_THIS) or not made.answer.beyond),
        counted=counted(made.saved, anew="count" in request.args) if cut else None,
        next_most=most + MOST_LISTED if cut and most + MOST_LISTED <= MOST_AT_ONCE else None,
        ruler=gauge_ruler(made.answer.target.natural_stitches, made.answer.candidates),
    )


@pages.get("/asks/<token>/why")
def why(token: str) -> Response | str:
    """Finds the yarn that is asked about and leads to its judgement."""
    saved = ask_in_visit(token)
    wanted = request.args.get("yarn", "").strip()[: lengths.YARN]
    named = judge_named(shop(), saved.ask, wanted, MOST_FOUND) if wanted else ()
    if len(named) == 1 and named[0].judged is not None:
        return redirect(url_for("choosing.yarn", token=token, sku=named[0].sku), 303)
    found = [(one.sku, one.name, _standing(one)) for one in named]
    return render_template("why.html", saved=saved, wanted=wanted, found=found, most=MOST_FOUND)


def _groups(answer: Answer, everything: bool) -> Iterator[ShownGroup]:
    for group in Suitability:
        candidates = answer.in_group(group)
        first = FIRST_NOT_FOR_THIS if group is Suitability.NOT_FOR_THIS else FIRST_OF_A_GROUP
        last = answer.cut and candidates[-1:] == answer.candidates[-1:]
        yield ShownGroup(group, candidates, candidates if everything else candidates[:first], last)


def _most_wanted(written: str) -> int:
    """Returns how many yarns to list; what is no such number is taken for the usual one."""
    wanted = int(written) if written.isascii() and written.isdecimal() else MOST_LISTED
    return min(max(wanted, MOST_LISTED), MOST_AT_ONCE)


def _standing(one: NamedYarn) -> str | None:
    """Returns how a yarn stands; None for one that is not on offer any more."""
    if one.judged is None:
        return None
    ruled_out = one.judged.ruled_out is not None
    return "ruled out by a wish" if ruled_out else one.judged.candidate.group.value
