"""The command line on the reader's own inputs."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path

import pytest

from conftest import CARD, STUCK, Run, runner, set_option
from generator.check import load_checked
from generator.editor import FILES
from generator.formula import FORMULARY
from generator.kept import Kept
from generator.shipped import PROCEDURES
from generator.terminal import answer, remark

WANTED = ["d", "P", "d_3", "A_s", "d_v", "D_g", "D_o", "T", "L_o", "t_b", "V_r", "V_g", "V_b", "V"]


@pytest.fixture(scope="session")
def whole_house(small_project: Path) -> Path:
    """Two cards are worked here; other tests work the rest."""
    return small_project


def worked(generator: Run, *inputs: str, card: str = CARD) -> dict[str, dict[str, object]]:
    done = generator("work", card, *inputs, "--json")
    assert done.returncode == 0, done.stderr
    document: dict[str, dict[str, object]] = json.loads(done.stdout)
    return document


def number(document: dict[str, dict[str, object]], symbol: str) -> float:
    value = document["values"][symbol]
    assert isinstance(value, dict)
    return float(value["value"])


def test_json_holds_values_with_unit_and_name_and_the_trail(generator: Run) -> None:
    document = worked(generator, "thread=M8", "T=90 mm", "N=2")
    assert list(document) == ["card", "shop", "choices", "values", "trail", "refused", "warnings", "own_tests"]
    assert document["values"]["D_o"] == {"value": 14.0, "unit": "mm", "name": "oversized hole", "shown": "14 mm"}
    assert set(WANTED) <= set(document["values"])
    by_symbol = {step["symbol"]: step for step in document["trail"]}  # type: ignore[index, call-overload]
    assert by_symbol["D_o"]["kind"] == "lookup"
    assert by_symbol["V_r"]["formula"] == "π / 4 × (D_o² − d_v²) × L_o"
    assert by_symbol["V_r"]["from"] == ["D_o", "d_v", "L_o"]
    assert by_symbol["T"] == {"symbol": "T", "source": "your-own", "kind": "given"}
    order = [step["symbol"] for step in document["trail"]]  # type: ignore[index, call-overload]
    assert order.index("D_g") < order.index("D_t") < order.index("D_o") < order.index("V_r") < order.index("V")


def test_two_fittings_by_hand(generator: Run) -> None:
    """Worked on paper: 8 and 14 mm drills, 63 mm of the 90 mm oversized, M8 taken as a 7.2568 mm rod."""
    document = worked(generator, "thread=M8", "T=90 mm", "N=2")
    ring = 0.785398 * (14**2 - 7.2568**2) * 63 / 1000
    assert number(document, "V_r") == pytest.approx(ring, rel=1e-4)
    bed = (60 * 40 * 3 + 4**2 / 2 * 200 + 3.14159 / 3 * 4**3) / 1000
    assert number(document, "V_b") == pytest.approx(bed, rel=1e-4)
    one = ring + 0.785398 * (8**2 - 7.2568**2) * 27 / 1000 + bed
    syringes = 2  # 2 holes of 7.33 mL and 40 % waste make 20.5 mL; 15 mL can be pushed out of each 20 mL syringe
    assert number(document, "n_s") == syringes
    # Beside it the sample: 5 g, of a density of 1.564 g/mL as mixed and thickened.
    assert number(document, "V") == pytest.approx(2 * one * 1.4 + syringes * 20 * 0.25 + 5 / 1.5645, rel=1e-4)


def test_what_is_set_and_not_worked_with_is_told(generator: Run) -> None:
    done = generator("work", CARD, "R_c=500 mm", "N=4")
    assert done.returncode == 0
    assert "mind: R_c, radius of the crown, is nothing that this card works with" in done.stderr
    assert done.stderr.count("mind:") == 1
    assert "mind:" not in generator("work", CARD, "N=4", "n_w=2.3", "D_g=8 mm").stderr


def test_an_inch_thread_brings_the_inch_shop(generator: Run) -> None:
    document = worked(generator, "thread=3/8-16 UNC", "T=4 in")
    assert document["shop"] == "inch"
    assert document["values"]["D_g"]["shown"] == "3/8 in"  # type: ignore[index]
    assert document["values"]["D_o"]["shown"] == "5/8 in"  # type: ignore[index]
    assert number(document, "L_o") == pytest.approx(2.8125)  # 0.7 of 4 in, to the nearest sixteenth


def test_the_shops_are_not_converted_into_each_other(generator: Run) -> None:
    metric = worked(generator, "thread=M8", "T=90 mm")
    inch = worked(generator, "thread=M8", "T=90 mm", "shop=inch")
    assert inch["values"]["D_g"]["shown"] == "21/64 in"  # type: ignore[index]
    assert inch["values"]["D_o"]["shown"] == "9/16 in"  # type: ignore[index]
    assert number(inch, "D_o") * 25.4 != pytest.approx(number(metric, "D_o"), abs=0.1)


@pytest.mark.parametrize("spelling", ["M8x1.25", "m8", "M8×1.25", "M 8", "5/16-18", "5/16 unc", "#10-24"])
def test_a_thread_may_be_written_in_the_usual_ways(generator: Run, spelling: str) -> None:
    worked(generator, f"thread={spelling}")


def test_a_ratio_by_weight_is_the_same_mix(generator: Run) -> None:
    by_volume = worked(generator, "ratio=2:1 by volume")
    by_weight = worked(generator, f"ratio={2 * 1.15 / 0.98}:1 by weight")
    for symbol in ("n_v", "n_w", "m_r", "m_h", "v_r", "v_h"):
        assert number(by_weight, symbol) == pytest.approx(number(by_volume, symbol), rel=1e-9)
    assert number(worked(generator, "n_w=2.35"), "n_v") == pytest.approx(2.35 * 0.98 / 1.15)


def test_a_pointed_drill_needs_its_mark_deeper_and_leaves_a_cone(generator: Run) -> None:
    flat, twist = (worked(generator, f"large_drill={kind}") for kind in ("flat", "twist"))
    assert number(flat, "M_o") == pytest.approx(63 + 13)  # the spur
    assert number(twist, "M_o") == pytest.approx(63 + 4.206, abs=0.001)  # the cone of a 118 degree point, 14 mm
    assert number(flat, "V_f") == pytest.approx(0, abs=1e-6)
    # the frustum between 14 and 8 mm on a floor that falls 0.6009 mm a millimetre of radius
    assert number(twist, "V_f") == pytest.approx(3.14159 / 24 * 6**2 * (14 + 16) * 0.60086 / 1000, rel=1e-4)


def test_a_blind_hole_has_a_pocket_and_an_end_wall(generator: Run) -> None:
    through, blind = worked(generator), worked(generator, card="blind-stud")
    assert number(through, "V_e") == 0
    assert number(blind, "V_e") == pytest.approx(0.785398 * (7.2568**2 * 2 + 64 * 2.4034 / 3) / 1000, rel=1e-4)
    assert number(blind, "V") > number(through, "V")


@pytest.mark.parametrize(
    ("card", "hole", "instead"),
    [(CARD, "blind", "blind-stud"), ("blind-stud", "through", CARD)],
)
def test_a_card_refuses_the_other_hole_and_names_its_card(generator: Run, card: str, hole: str, instead: str) -> None:
    done = generator("work", card, f"hole={hole}")
    assert done.returncode == 1
    assert f"argument 'hole={hole}':1:6: {hole} hole: this card is not for it, take the card" in done.stderr
    assert f"({instead})" in done.stderr
    assert not done.stdout


def test_a_point_that_breaks_out_is_a_warning(generator: Run) -> None:
    document = worked(generator, "thread=M8", "T=40 mm")
    assert "the point of the large drill goes deeper than the hole" in document["warnings"][0]  # type: ignore[index]
    assert "Mind: the point of the large drill" in generator("work", CARD, "T=40 mm").stdout


def test_a_hot_batch_and_a_swapped_ratio_are_warned_of(generator: Run) -> None:
    most = {many: json.loads(generator("work", CARD, f"N={many}", "--json").stdout)["values"] for many in (1, 10)}
    assert most[1]["n_m"]["value"] == 1
    assert most[10]["n_m"]["value"] > 1, "no mix is more than one cup holds"
    assert most[10]["m_b"]["value"] <= 100
    assert "more hardener than resin" in generator("work", CARD, "ratio=43:100 by weight").stdout


def test_a_shop_may_have_other_drills(house: Path, generator: Run) -> None:
    path = house / "procedures/data/drills.yaml"
    text = path.read_text(encoding="utf-8").replace("12, 13, 14, 16, 18", "12, 16, 18")
    path.write_text(re.sub(r"\n    total: [^\n]+", "", text), encoding="utf-8")
    assert generator("check").returncode == 0
    assert number(worked(generator, "thread=M8"), "D_o") == 16


@pytest.mark.parametrize("asked", [(), ("thread=M8",)])
def test_ones_own_shop_is_worked_in_whatever_its_units(house: Path, generator: Run, asked: tuple[str, ...]) -> None:
    own = 'epoxy: {title: ours, resin: 1.13 g/mL, hardener: 0.97 g/mL, ratio: "100:20 by weight"}'
    (house / "procedures/shop.yaml").write_text(f"name: Ours\nunits: inch\n{own}\n", encoding="utf-8")
    document = worked(generator, *asked)
    assert document["shop"] == "inch"
    assert document["choices"]["resin"] == "ours"
    assert worked(generator, "shop=metric")["shop"] == "metric"


def test_a_site_of_one_shop_is_worked_in_it(house: Path, generator: Run) -> None:
    set_option(house, "units: both", "units: inch")
    assert worked(generator)["shop"] == "inch"
    assert worked(generator, "thread=M8")["shop"] == "inch"
    (house / "procedures/shop.yaml").write_text("name: Ours\nunits: metric\n", encoding="utf-8")
    told = generator("work", CARD).stderr
    assert "shop.yaml:2:8: the site's settings have all pages in inch units, none of them this shop's" in told


def test_text_prints_the_same_trail(generator: Run) -> None:
    text = generator("work", "--trail", CARD, "thread=M8", "T=90 mm", "N=2").stdout
    for heading in ("Given", "Worked", "For the shop"):
        assert f"\n{heading}\n" in text
    assert "= D_g + s_o" in text
    assert "= 8 mm + 6 mm = 14 mm" in text
    assert re.search(r"V_r +7\.1 mL +ring round the thread", text)
    assert "\u00a0" not in text


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["nonesuch"], "no card 'nonesuch'; cards: "),
        ([CARD, "T=6 kg"], "argument 'T=6 kg':1:3: hole depth: '6 kg' is not a length"),
        ([CARD, "T=0 mm"], "argument 'T=0 mm':1:3: hole depth: outside the range of this card: take 10 to 1000 mm"),
        ([CARD, "N=0"], "argument 'N=0':1:3: number of fittings: outside the range of this card: take 1 to 1000"),
        ([CARD, "T=-5 mm"], "'-5 mm' makes no hole depth; give 0 or more"),
        ([CARD, "thread=M7"], "argument 'thread=M7':1:8: thread 'M7' is not in the data; near it:"),
        ([CARD, "thred=M8"], "argument 'thred=M8':1:1: unknown input 'thred'; did you mean thread?"),
        ([CARD, "M8"], "argument 'M8':1:1: write name=value, for instance thread=M8"),
        ([CARD, "N=1", "N=2"], "'N' is given twice; keep one"),
        ([CARD, "f_o=0.9"], "oversized depth as a part of the hole depth: outside the range of this card: take 0.667 to 0.75"),
        ([CARD, "shop=imperial"], "'imperial' is no shop; write metric or inch"),
        ([CARD, "ratio=2"], "is no mix ratio"),
        ([CARD, "ratio=2:0 by volume"], "both parts are plain numbers above 0"),
        ([CARD, "ratio=999999999:1 by volume"], "'999999999:1 by volume' cannot be the parts of resin to one of hardener"),
        ([CARD, "ratio=1:11 by weight"], "give 0.1 to 20"),
        ([CARD, "u_s=0"], "outside the range"),
        ([CARD, "V_s=0 mL"], "outside the range"),
        ([CARD, "rho_r=0 g/mL"], "'0 g/mL' makes no density of the resin; give more than 0"),
        ([CARD, "w_a=-10 %"], "'-10 %' makes no allowance for waste; give 0 or more"),
    ],
)  # fmt: skip
def test_a_bad_input_names_the_argument_and_what_would_be_right(
    generator: Run, arguments: list[str], words: str
) -> None:
    done = generator("work", *arguments)
    assert done.returncode == 1
    assert done.stdout == ""
    assert words in done.stderr


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        ([CARD, "N=1.5"], "give a whole number of fittings, at least 1"),
        ([CARD, "D_g=16 mm", "D_o=14 mm"], "the oversized hole must be larger than the guide hole"),
        ([CARD, "D_g=7 mm"], "the guide hole must not be smaller than the thread"),
        ([CARD, "thread=M24", "large_drill=twist"], "metric twist drills, from 1 mm to 25 mm, have no size near the 30 mm that is wanted"),
        ([CARD, "P=10 mm"], "the thread is cut deeper than it is thick: take a finer pitch"),
        ([CARD, "d_v=9 mm"], "a thread takes up less room than its nominal diameter"),
        ([CARD, "x_f=100 %"], "filler is a part of the whole"),
        ([CARD, "alpha_o=181 deg"], "a drill's point angle lies above 0 and reaches 180 deg"),
    ],
)  # fmt: skip
def test_what_cannot_be_worked_together_has_no_number_and_the_rest_stays(
    generator: Run, arguments: list[str], words: str
) -> None:
    done = generator("work", *arguments)
    assert done.returncode == 0
    assert f"No number: {words}" in done.stdout
    assert "no number" in generator("work", *arguments, "--trail").stdout
    refused = json.loads(generator("work", *arguments, "--json").stdout)["refused"]
    assert refused
    assert any(words in reason for reason in refused.values())


def test_the_answer_is_a_screenful_with_drills_flags_epoxy_times_and_loads(generator: Run) -> None:
    text = generator("work", CARD, "thread=M8", "T=90 mm", "N=2").stdout
    assert len(text.splitlines()) < 35
    for words in (
        "oversized hole     14 mm            flag at 76 mm",
        "resin  ",
        "hard  ",
        " kN      working load of the",
    ):
        assert words in text
    assert "D_o" not in text


def test_what_may_be_set_is_listed(generator: Run) -> None:
    cards = generator("list").stdout
    assert f"  {CARD} " in cards
    inputs = generator("inputs", CARD).stdout
    assert "the thickness of the wood: 90 mm or 3 1/2 in, 10 to 1000 mm or 13/32 to 39 in" in inputs
    assert "one of flat, twist" in inputs or "one of twist, flat" in inputs
    assert "one of through" not in inputs  # a blind hole is another card's


@pytest.mark.parametrize("place", range(4))
def test_a_flag_may_stand_anywhere(generator: Run, place: int) -> None:
    words = ["work", CARD, "thread=M10"]
    words.insert(place, "--json")
    done = generator(*words)
    assert json.loads(done.stdout)["values"]["D_o"]["value"] == 16.0


def test_check_says_what_it_checked(generator: Run) -> None:
    done = generator("check")
    assert done.returncode == 0
    assert re.match(
        r"cards: \d+, tables: \d+, job sheets: \d+, formulas and rules with units proved: \d\d", done.stdout
    )
    assert done.stdout.endswith("Nothing to mend.\n")


def respelt(house: Path, file: str, pattern: str, new: str) -> None:
    """Change a file in one place."""
    path = house / "procedures" / file
    text, count = re.subn(pattern, new, path.read_text(encoding="utf-8"), count=1, flags=re.MULTILINE)
    assert count == 1
    path.write_text(text, encoding="utf-8")


@pytest.mark.parametrize("command", ["work", "inputs"])
def test_a_card_is_stopped_by_its_own_faults_and_by_no_other_cards(house: Path, generator: Run, command: str) -> None:
    sound = generator(command, CARD).stdout
    respelt(house, "cards/blind-stud.yaml", "^figure: .*", "figure: no-such-drawing")
    respelt(house, "tables/threads.yaml", "value: 9.026 mm", "value: 9.5 mm")
    assert generator("check").stderr.endswith("2 to mend\n")
    done = generator(command, CARD)
    assert (done.returncode, done.stdout, done.stderr) == (0, sound, "")
    done = generator(command, "blind-stud")
    assert (done.returncode, done.stdout) == (1, "")
    assert re.match(r"procedures/cards/blind-stud\.yaml:\d+:9: unknown drawing", done.stderr)
    assert done.stderr.endswith("1 to mend\n"), "the table is another's to mend"
    respelt(house, "cards/blind-stud.yaml", "^title: ", "titel: ")
    assert "cards/blind-stud.yaml" in generator(command, CARD).stderr, "what cannot be read is no library"


def test_a_spoilt_series_stops_the_cards_whose_joints_it_speaks_of(house: Path, generator: Run) -> None:
    series = "tests/white-oak-demo.yaml"
    respelt(house, series, "thread: M8", "thread: M7.7")
    assert re.match(rf"procedures/{series}:\d+:\d+: ", generator("work", CARD).stderr)
    respelt(house, series, "^card: trial-joint", "card: blind-stud")
    assert generator("work", CARD).returncode == 0
    assert series in generator("work", "blind-stud").stderr


def test_only_the_card_that_is_worked_is_checked_and_the_one_that_its_joints_are_tried_by(house: Path) -> None:
    def checked(card: str) -> set[str]:
        kept = Kept()
        load_checked(house / "procedures", kept, card=card)
        return {name for name in kept.made if not name.startswith("check words in ")}  # of drawings, for every card

    assert checked("trial-joint") == {"check cards/trial-joint.yaml"}
    assert checked(CARD) == {f"check cards/{CARD}.yaml", "check cards/trial-joint.yaml"}
    (house / "procedures/tests/white-oak-demo.yaml").unlink()
    assert checked(CARD) == {f"check cards/{CARD}.yaml"}
    assert checked("no-such-card") == set()


def test_write_puts_plain_files_on_disk(house: Path, generator: Run) -> None:
    assert generator("write", "out").returncode == 0
    names = {path.relative_to(house / "out").as_posix() for path in (house / "out").rglob("*") if path.is_file()}
    pages = {f"cards/{CARD}.md", f"cards/{CARD}/sizes-metric.csv", "cards/index.md", "hosting.md", "assets/shop.js"}
    assert {"mkdocs.yml", *(f"docs/{name}" for name in pages)} <= names
    assert not [name for name in names if name.startswith(".") or "tmp" in name]


def test_write_into_a_file_is_an_error(house: Path, generator: Run) -> None:
    (house / "out").write_text("mine")
    done = generator("write", "out")
    assert done.returncode == 1
    assert "cannot be written" in done.stderr
    assert (house / "out").read_text() == "mine"


def test_spaces_that_do_not_break_are_spaces(generator: Run) -> None:
    """A value copied from a page or a word processor."""
    assert generator("work", CARD, "T=120\u00a0mm").returncode == 0
    assert generator("work", CARD, "T=120\u2009mm").returncode == 0
    assert generator("work", CARD, "shop=inch", "T=3\u00a01/2\u00a0in").returncode == 0


def test_a_terminal_has_colours_and_all_else_the_same_text_without(capsys: pytest.CaptureFixture[str]) -> None:
    fault = "cards/a.yaml:3:9: unknown symbol 'D_oo'\n    wanted: [D_oo]\n             ^"
    answer("Title [bold]\n\nTimes\n  hard 18 h :boat:")
    remark(fault)
    plain = capsys.readouterr()
    assert (plain.out, plain.err) == ("Title [bold]\n\nTimes\n  hard 18 h :boat:\n", f"{fault}\n")
    with pytest.MonkeyPatch.context() as seen:
        seen.setenv("FORCE_COLOR", "1")
        seen.setenv("TERM", "xterm")
        seen.delenv("NO_COLOR", raising=False)
        answer("Title [bold]\n\nTimes\n  hard 18 h :boat:")
        remark(fault)
    shown = capsys.readouterr()
    assert {"\x1b[1mTitle [bold]\x1b[0m", "\x1b[1mTimes\x1b[0m"} <= set(shown.out.splitlines())
    assert shown.err.startswith("\x1b[1mcards/a.yaml:3:9:\x1b[0m unknown")
    assert shown.err.endswith("\x1b[1;31m^\x1b[0m\n")
    assert re.sub(r"\x1b\[[\d;]*m", "", shown.err) == plain.err


def test_a_shell_completes_commands_names_and_options(generator: Run, tmp_path: Path) -> None:
    for shell in ("zsh", "tcsh"):
        assert "blind-stud" in generator("completion", shell).stdout
    script = tmp_path / "completion"
    script.write_text(generator("completion", "bash").stdout, encoding="utf-8")
    asked = {
        "se": "serve",
        "work bli": "blind-stud",
        "inputs bli": "blind-stud",
        "new t": "table",
        "work a --t": "--trail",
    }
    tried = "; ".join(
        f'COMP_WORDS=(bondwright {words}); COMP_CWORD={len(words.split())}; COMPREPLY=(); _shtab_bondwright; echo "${{COMPREPLY[@]}}"'
        for words in asked
    )
    done = subprocess.run(["bash", "-c", f". {script}; {tried}"], capture_output=True, text=True, timeout=STUCK)
    assert done.stdout.split() == [*asked.values()], done.stderr


def test_a_very_long_text_is_refused_at_once(generator: Run) -> None:
    for name in ("T", "ratio", "thread"):
        done = generator("work", CARD, f"{name}=" + "1 " * 200_000)
        assert done.returncode == 1
        assert len(done.stderr) < 600


def test_what_cannot_be_seen_is_spelt_out(generator: Run) -> None:
    done = generator("work", CARD, "thread=M8\x1b[31m")
    assert done.returncode == 1
    assert "\x1b" not in done.stderr
    assert "M8\\u001b[31m" in done.stderr


def test_a_reader_may_stop_reading(small_house: Path) -> None:
    """head closes the pipe: no traceback."""
    command = [sys.executable, "-m", "bondwright", "work", CARD, "--json"]
    with subprocess.Popen(command, cwd=small_house, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        assert b"Traceback" not in process.stderr.read()


def test_it_runs_as_a_module(small_house: Path) -> None:
    generator_process = runner(small_house, "bondwright")
    done = generator_process("work", CARD, "thread=M8", "--json")
    assert done.returncode == 0
    assert json.loads(done.stdout)["values"]["D_o"]["value"] == 14.0
    assert generator_process("work", CARD, "T=6 kg").returncode == 1


def test_the_words_of_the_pages_stand_in_the_source(monkeypatch: pytest.MonkeyPatch) -> None:
    """Python may run without the texts that say what a function does; a formula is described all the same."""
    monkeypatch.setenv("PYTHONOPTIMIZE", "2")
    code = "import generator.formulas; from generator.formula import FORMULARY as f; print(*(x.meaning for x in f.formulas), sep='|')"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, encoding="utf-8", check=True)
    assert done.stdout.strip() == "|".join(formula.meaning for formula in FORMULARY.formulas)
    assert all(formula.meaning for formula in FORMULARY.formulas)


def test_a_schema_says_what_each_part_is(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    """Then too: what an editor shows of a field's meaning stands in the same texts."""
    monkeypatch.setenv("PYTHONOPTIMIZE", "2")
    code = f"from generator.cli import main; main(['schema', '--into', {str(tmp_path)!r}])"
    subprocess.run([sys.executable, "-c", code], check=True)
    for kind in FILES:
        told, kept = (folder / f"schema/{kind}.json" for folder in (tmp_path, PROCEDURES))
        assert told.read_text(encoding="utf-8") == kept.read_text(encoding="utf-8")


@pytest.mark.parametrize("folder", [".", "procedures", "absolute"])
def test_a_fault_stands_at_a_path_that_can_be_opened(
    house: Path, generator: Run, monkeypatch: pytest.MonkeyPatch, folder: str
) -> None:
    (house / "procedures/cautions.yaml").write_text("cautionz: {}\n", encoding="utf-8")
    if folder == ".":
        monkeypatch.chdir(house / "procedures")
    done = generator("check", "--procedures", str(house / "procedures") if folder == "absolute" else folder)
    files = {line.split(":1:")[0] for line in done.stderr.splitlines() if ":1:" in line}
    assert any(file.endswith("cautions.yaml") for file in files), done.stderr
    assert all(Path(file).is_file() for file in files), files


@pytest.mark.parametrize(
    ("settings", "told"),
    [
        (b"plugins: [{bondwright: x}]", "plugin 'bondwright': its options are written as 'name: value' lines"),
        (b"plugins: {bondwright: [x]}", "plugin 'bondwright': its options are written as 'name: value' lines"),
        (b"INHERIT: mkdocs.yml", "cannot be read: it inherits from itself, or is nested too deep"),
        (b"INHERIT: 5", "cannot be read: "),
        (b"built: 2027-99-99", "cannot be read: month must be in 1..12"),
        (b"site_name: \xff", "cannot be read: 'utf-8' codec can't decode"),
        (b"plugins: [{bondwright: {unit: metric}}]", "option 'unit': Unrecognised configuration name"),
        (b"plugins: [{bondwright: {cards: [nowhere]}}]", "no card 'nowhere'"),
        (b"plugins: [{bondwright: {threads: [nowhere]}}]", "no thread series 'nowhere'"),
        (b'plugins: [{bondwright: {languages: ["\\e[31mx"]}}]', "'\\u001b[31mx' is no language"),
    ],
)
def test_check_tells_of_settings_that_no_build_could_take(
    generator: Run, house: Path, settings: bytes, told: str
) -> None:
    (house / "mkdocs.yml").write_bytes(settings)
    done = generator("check")
    assert done.returncode == 1
    assert told in done.stderr
    assert "\x1b" not in done.stderr


def test_what_is_no_plugin_is_left_to_mkdocs(generator: Run, house: Path) -> None:
    for settings in ("plugins: 5", "plugins: [null, 5, [a], {}, bondwright]", "plugins: bondwright", ""):
        (house / "mkdocs.yml").write_text(settings, encoding="utf-8")
        assert generator("list").returncode == 0, settings
