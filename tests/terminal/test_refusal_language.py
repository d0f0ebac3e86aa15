"""A command refuses in the language that its --language names, with the same exit code."""

import ast
from dataclasses import replace
from pathlib import Path

import pytest
from sqlalchemy.orm import Session

from shopdesk.reference.paper_uses import papers_for
from shopdesk.store.database import open_shelf
from shopdesk.store.settings import load_settings, save_settings
from shopdesk.terminal.main import VERBS
from tests.terminal.demo_shop import Run, demo_ask, demo_shop, runner
from tests.test_architecture import PACKAGE

NB = "\N{NO-BREAK SPACE}"
PAPERS = ", ".join(papers_for("slip"))
PLAIN = str(demo_ask("plain-pullover"))
BABY = str(demo_ask("baby-cardigan"))
SLIP = ("slip", PLAIN, "--yarn", "OY-3101", "-o", "-")
NO_SLIP = {
    "de": "es gibt keinen Zettel 99; prüfen Sie die Nummer oben auf dem Zettel",
    "fr": f"il n’y a pas de fiche 99{NB}; vérifiez le numéro en haut de la fiche",
}
REFUSED: list[tuple[tuple[str, ...], dict[str, str]]] = [
    (
        ("answer", "-"),
        {
            "de": "parts: dieses Feld fehlt; geben Sie an: ein Teil für jede Farbe, die gezählt "
            "wird",
            "fr": f"parts{NB}: ce champ manque{NB}; donnez une partie par couleur comptée",
        },
    ),
    (
        ("answer", "nowhere.json"),
        {
            "de": "nowhere.json lässt sich nicht lesen: No such file or directory",
            "fr": f"nowhere.json ne peut pas être lu{NB}: No such file or directory",
        },
    ),
    (
        ("answer", "/"),
        {
            "de": "/ ist ein Ordner; geben Sie eine Datei an",
            "fr": f"/ est un dossier{NB}; donnez un fichier",
        },
    ),
    (
        ("slip", PLAIN, "--yarn", "nothing", "-o", "-"),
        {
            "de": "--yarn: „nothing“ ist nicht unter den Garnen der Antwort; "
            "nehmen Sie eine „sku“, die `shopdesk answer` ausgibt",
            "fr": f"--yarn{NB}: «{NB}nothing{NB}» n’est pas parmi les fils de la réponse{NB}; "
            f"prenez une «{NB}sku{NB}» qu’affiche `shopdesk answer`",
        },
    ),
    (
        ("slip", PLAIN, "--yarn", "OY-3101", "-o", "/"),
        {
            "de": "--output: / ist ein Ordner; nennen Sie eine Datei",
            "fr": f"--output{NB}: / est un dossier{NB}; nommez un fichier",
        },
    ),
    (
        ("slip", PLAIN, "--yarn", "OY-3101", "-o", "/nowhere/slip.pdf"),
        {
            "de": "--output: /nowhere/slip.pdf lässt sich nicht schreiben: "
            "No such file or directory",
            "fr": f"--output{NB}: /nowhere/slip.pdf ne peut pas être écrit{NB}: "
            "No such file or directory",
        },
    ),
    (
        (*SLIP, "--skeins", "0"),
        {
            "de": "--skeins: 0 Knäuel sind nicht möglich; schreiben Sie eine ganze Zahl von 1 bis "
            "1000",
            "fr": f"--skeins{NB}: 0 pelotes, ce n’est pas possible{NB}; écrivez un nombre entier "
            "de 1 à 1000",
        },
    ),
    (
        (*SLIP, "--skeins", "abc"),
        {
            "de": "--skeins: „abc“ ist keine Zahl; schreiben Sie eine ganze Zahl von 1 bis 1000",
            "fr": f"--skeins{NB}: «{NB}abc{NB}» n’est pas un nombre{NB}; écrivez un nombre entier "
            "de 1 à 1000",
        },
    ),
    (
        (*SLIP, "--paper", "A9"),
        {
            "de": f"--paper: „A9“ ist kein Papier; wählen Sie eines von {PAPERS}",
            "fr": f"--paper{NB}: «{NB}A9{NB}» n’est pas un papier{NB}; choisissez l’un de {PAPERS}",
        },
    ),
    (
        (*SLIP, "--branch", "nowhere"),
        {
            "de": "es gibt keine Filiale „nowhere“; geben Sie eines von main an",
            "fr": f"il n’y a pas de succursale «{NB}nowhere{NB}»{NB}; donnez l’un de main",
        },
    ),
    (
        ("swatch", "--stitches", "20"),
        {
            "de": "welche Maschenprobe es ist, ist nicht gesagt; geben Sie die Nummer ihres "
            "Zettels an (SLIP), oder --yarn mit der Artikelnummer (SKU)",
            "fr": f"il n’est pas dit quel échantillon c’est{NB}; donnez le numéro de sa fiche "
            "(SLIP), ou --yarn avec le numéro d’article (SKU)",
        },
    ),
    (("swatch", "99", "--stitches", "20"), NO_SLIP),
    (("onemore", "--slip", "99"), NO_SLIP),
    (
        ("onemore",),
        {
            "de": "kein Garn ist genannt; nennen Sie Artikelnummer und Farbe, die Nummer eines "
            "Zettels oder den Strichcode der Banderole",
            "fr": f"aucun fil n’est nommé{NB}; donnez son numéro d’article et le coloris, le "
            "numéro d’une fiche ou le code-barres de la bande",
        },
    ),
    (
        ("check", "--yarn", "nothing"),
        {
            "de": "--yarn: es gibt kein Garn nothing; `shopdesk shelf find` findet Garne nach "
            "ihrem Namen",
            "fr": f"--yarn{NB}: il n’y a pas de fil nothing{NB}; `shopdesk shelf find` trouve les "
            "fils par leur nom",
        },
    ),
]


@pytest.fixture(scope="module")
def run(tmp_path_factory: pytest.TempPathFactory) -> Run:
    """Runs a verb in the demo shop; nothing here changes it."""
    return runner(demo_shop(tmp_path_factory.mktemp("demo") / "shop"))


@pytest.mark.parametrize("language", ["de", "fr"])
@pytest.mark.parametrize(("words", "told"), REFUSED, ids=lambda one: " ".join(one)[-40:])
def test_a_refusal_is_in_the_language_asked_for(
    run: Run, words: tuple[str, ...], told: dict[str, str], language: str
) -> None:
    done = run(*words, "--language", language, given='{"craft": "knit"}')
    assert done.stderr == f"shopdesk: {told[language]}\n"
    plain = run(*words, given='{"craft": "knit"}')
    assert (done.exit_code, done.stdout) == (plain.exit_code, plain.stdout) == (2, "")
    assert plain.stderr not in ("", done.stderr)


def test_every_command_with_a_language_is_tried() -> None:
    with_one = {
        name
        for name in VERBS
        for option in VERBS[name].command().params
        if "--language" in option.opts
    }
    assert {words[0] for words, _ in REFUSED} == with_one


@pytest.mark.parametrize(
    ("language", "first"),
    [
        ("de", "sagen Sie dies zuerst der Kundin oder dem Kunden, dann fügen Sie an:"),
        ("fr", f"dites-le d’abord à la cliente ou au client, puis ajoutez{NB}:"),
    ],
)
def test_what_must_be_told_first_is_too(run: Run, language: str, first: str) -> None:
    done = run("slip", BABY, "--yarn", "OY-1106", "-o", "-", "--language", language)
    assert done.exit_code == 2
    assert done.stderr.startswith(f"shopdesk: {first}\nshopdesk: --told buttons: ")


def test_a_command_without_a_language_speaks_english(run: Run) -> None:
    assert run("shelf", "show", "nothing").stderr == (
        "shopdesk: there is no yarn nothing; `shopdesk shelf find` finds them by name\n"
    )


def test_the_shop_s_language_is_no_command_s(tmp_path: Path) -> None:
    shop = demo_shop(tmp_path / "shop")
    engine = open_shelf(f"sqlite:///{shop / 'shopdesk.sqlite3'}")
    with Session(engine) as session, session.begin():
        save_settings(session, replace(load_settings(session), language="de"))
    engine.dispose()
    assert runner(shop)("onemore", "--slip", "99").stderr == (
        "shopdesk: there is no slip 99; check the number at the top of the slip\n"
    )


def test_what_click_says_of_a_line_is_english(run: Run) -> None:
    done = run("onemore", "--slip", "many", "--language", "de")
    assert done.exit_code == 2
    assert "Invalid value for '--slip'" in done.stderr


def spoken_words(code: str) -> list[int]:
    """Returns the lines of a module that end a verb with words of its own."""
    calls = (node for node in ast.walk(ast.parse(code)) if isinstance(node, ast.Call))
    return [
        call.lineno
        for call in calls
        if getattr(call.func, "id", "") in ("BadUsage", "CommandFailed")
        and any(isinstance(each, ast.Constant | ast.JoinedStr) for each in call.args)
    ]


def test_no_command_with_a_language_ends_in_words_of_its_own() -> None:
    assert spoken_words('raise BadUsage(f"{it} is wrong")\nraise BadUsage(str(it))') == [1]
    modules = {path: path.read_text("utf-8") for path in (PACKAGE / "terminal").glob("*.py")}
    speaking = {path.stem for path, code in modules.items() if "@language_option" in code}
    assert speaking == {"after_sale", "answer", "checks", "slip", "swatch"}
    ended = {path.stem: spoken_words(code) for path, code in modules.items()}
    assert [name for name in (*speaking, "streams", "visiting") if ended[name]] == []
