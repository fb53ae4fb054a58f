"""`vatside sheet`, `check` and `log`: what they print, what they refuse and how they end."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from attrs import frozen

from vatside.__main__ import PLAIN, main

SAMPLES = Path(__file__).parents[2] / "sample_sessions"
KEYS = {"stage", "id", "value", "unit", "text", "pinned", "working"}


@frozen
class Answer:
    """How a command ended and what it printed."""

    code: int
    out: str
    err: str


@pytest.fixture
def day(tmp_path: Path) -> Path:
    """Give a copy of a day that stopped in the middle."""
    return Path(shutil.copy(SAMPLES / "at-the-stove.json", tmp_path / "day.json"))


@pytest.fixture
def ask(capsys: pytest.CaptureFixture[str]) -> Any:
    """Give a way to run the command line."""

    def run(*words: object) -> Answer:
        code = main([str(word) for word in words])
        printed = capsys.readouterr()
        return Answer(code, printed.out, printed.err)

    return run


def refused(answer: Answer) -> bool:
    """Tell a refusal: code 2, nothing printed, one sentence on the error stream."""
    line = answer.err.rstrip("\n")
    return answer.code == 2 and not answer.out and "\n" not in line and line.startswith("vatside ") and len(line) > 20


class TestSheet:
    """`vatside sheet FILE [--json] [--set PATH=AMOUNT]`."""

    def test_text(self, ask: Any, day: Path) -> None:
        """Title, stages and figures, each figure on a line of its own."""
        answer = ask("sheet", day)
        assert answer.code == 0
        assert not answer.err
        lines = answer.out.splitlines()
        assert lines[0] == "Saturday class, eight cloths"
        assert [line for line in lines if line in ("Scour", "Stock", "Vat")] == ["Scour", "Stock", "Vat"]
        assert any(line.startswith("  Indigo powder") for line in lines)

    @pytest.mark.parametrize("hour", ["sat 14:00", "tomorrow 10:00", "5 Dec 2 pm"])
    def test_an_hour_is_set_as_people_say_it(self, ask: Any, day: Path, hour: str) -> None:
        """What the form takes for the hour of the vat, `--set` takes too."""
        assert ask("sheet", day, "--set", f"ready_by={hour}").code == 0

    def test_notices_stand_in_their_stage(self, ask: Any, day: Path) -> None:
        """What the dyer should hear is printed with a sign of its weight."""
        answer = ask("sheet", day, "--set", "lots.a.fibre=wool", "--set", "scour.wool.hold_temperature=70 C")
        assert "  !! Wool above 60 °C in the scour: it felts and loses its lustre." in answer.out

    def test_json_keys(self, ask: Any, day: Path) -> None:
        """Every row has the same seven keys, with a number and a whole working; and what is said about it, if any."""
        rows = json.loads(ask("sheet", day, "--json").out)
        assert rows
        for row in rows:
            assert set(row) - {"notices"} == KEYS
            assert isinstance(row["value"], int | float)
            assert isinstance(row["pinned"], bool)
            assert "Source: " in row["working"]

    def test_json_and_text_agree(self, ask: Any, day: Path) -> None:
        """What the rows say stands in the text, too."""
        rows = {row["id"]: row for row in json.loads(ask("sheet", day, "--json").out)}
        assert rows["stock.pigment"]["unit"] == "g"
        grams = rows["stock.pigment"]["text"].partition(" (")[0]
        assert any(grams in line for line in ask("sheet", day).out.splitlines() if "Indigo powder" in line)

    def test_the_dozen_that_the_screen_shows(self, ask: Any, day: Path) -> None:
        """Without --all a dozen figures a stage, and how many there are besides; with it every figure of the JSON."""
        few, every = (ask("sheet", day, *more).out.splitlines() for more in ((), ("--all",)))
        assert not any(line.startswith("  Warmest safe start") for line in few)
        assert any(line.startswith("  Warmest safe start") for line in every)
        *seen, _, more = few
        assert more == f"--all prints {len(every) - len(seen)} more figures"
        assert len(json.loads(ask("sheet", day, "--json").out)) > len(seen)

    def test_set_a_pin(self, ask: Any, day: Path) -> None:
        """Four teaspoons held are 8.9 g, and the row says that it is pinned."""
        rows = {row["id"]: row for row in json.loads(ask("sheet", day, "--json", "--set", "stock.pigment=4 tsp").out)}
        assert rows["stock.pigment"]["pinned"] is True
        assert rows["stock.pigment"]["value"] == pytest.approx(4 * 0.45 * 4.92892, rel=1e-4)
        assert "set by you: 4 tsp" in rows["stock.pigment"]["working"]

    def test_set_a_field_changes_what_follows(self, ask: Any, day: Path) -> None:
        """Twice the purity is half the powder; later settings build on earlier ones."""
        first = value(ask("sheet", day, "--json", "--set", "shelf.indigo.purity=30").out, "stock.pigment")
        second = value(
            ask(
                "sheet", day, "--json", "--set", "shelf.indigo.purity=30", "--set", "shelf.indigo.purity = 60 %"
            ).out,
            "stock.pigment",
        )  # fmt: skip
        assert second == pytest.approx(first / 2)

    def test_set_frees_a_pin(self, ask: Any, day: Path) -> None:
        """An empty amount gives a held figure back to the plan."""
        out = ask("sheet", day, "--json", "--set", "stock.pigment=4 tsp", "--set", "stock.pigment=").out
        assert not any(row["pinned"] for row in json.loads(out) if row["id"] == "stock.pigment")

    def test_the_file_is_left_alone(self, ask: Any, day: Path) -> None:
        """Printing with settings changes neither the file nor its folder."""
        before = day.read_bytes()
        ask("sheet", day, "--set", "stock.pigment=4 tsp")
        assert day.read_bytes() == before
        assert [path.name for path in day.parent.iterdir()] == ["day.json"]

    @pytest.mark.parametrize(
        ("change", "part"),
        [
            ("stock.pigment", "write PATH=AMOUNT"),
            ("stock.indigotin=4 g", "no such place"),
            ("=4 g", "no such place"),
            ("stock.pigment=4 furlongs", "Indigo powder: "),
            ("water.hot=400 C", "400 °C cannot be; between 1 °C and 100 °C"),
            ("lots.a.mass=", "nothing stands here"),
            ("method=woad", "is none of"),
            ("title=\x1b[31mred", "cannot be shown"),
            ("ready_by=soon", "soon is no time; write 14:00, sat 14:00"),
        ],
    )
    def test_what_cannot_be_set(self, ask: Any, day: Path, change: str, part: str) -> None:
        """A setting that cannot be is refused in one sentence that says what would be right."""
        answer = ask("sheet", day, "--set", change)
        assert refused(answer)
        assert part in answer.err
        assert "\x1b" not in answer.err

    @pytest.mark.parametrize(
        ("typed", "meant"),
        [("stock.indigo", "stock.pigment"), ("lots.mass", "lots.a.mass"), ("water.hto", "water.hot")],
    )
    def test_a_place_that_is_not_there_names_those_near_it(self, ask: Any, day: Path, typed: str, meant: str) -> None:
        """A path a little off is refused with the one that was meant, and with the way to see all."""
        answer = ask("sheet", day, "--set", f"{typed}=4 g")
        assert refused(answer)
        assert meant in answer.err
        assert "--paths" in answer.err

    def test_paths(self, ask: Any, day: Path) -> None:
        """Every path stands in a line with its label and what is set; each of them can be set."""
        out = ask("sheet", day, "--paths", "--set", "water.hot=51 C").out
        assert any(line.split() == ["water.hot", "Hot", "tap", "51", "°C"] for line in out.splitlines())
        assert "stock.pigment" in out
        assert "Liquor it carries" in out


class TestLiquor:
    """`vatside liquor --to-pH`."""

    BATH = ("liquor", "--water", "20 L", "--at", "40 C", "--add", "sodium hydroxide=5 g")

    @pytest.mark.parametrize("acid", ["vinegar", "citric-acid"])
    def test_the_pH_after_stands_beside_the_amount(self, ask: Any, acid: str) -> None:
        """Acid to pH 9 says how much, and that it is pH 9 then."""
        last = ask(*self.BATH, "--to-pH", "9", "--with", acid).out.splitlines()[-1]
        assert f"of {acid}: pH 9.00 at 40 °C" in last
        assert last.startswith("with ")

    def test_the_amount_said_does_it(self, ask: Any) -> None:
        """The grams of lye as weighed, put in, give the pH that was promised."""
        dose = json.loads(ask(*self.BATH, "--to-pH", "11.8", "--with", "lye", "--json").out)["dose"]
        after = json.loads(ask(*self.BATH, "--add", f"lye={dose['value']:.4f} g", "--json").out)
        assert after["pH"] == pytest.approx(11.8, abs=0.001)
        assert dose["pH_at_25C"] == pytest.approx(after["pH_at_25C"], abs=0.001)

    def test_nothing_to_put_in(self, ask: Any) -> None:
        """Alkali lowers no pH: no amount is named."""
        assert "lye: none" in ask(*self.BATH, "--to-pH", "9", "--with", "lye").out

    @pytest.mark.parametrize("typed", ["99", "-1", "nan", "abc"])
    def test_a_pH_that_there_is_not(self, ask: Any, typed: str) -> None:
        """No bath comes to such a pH, and no computer's word for numbers stands in the answer."""
        answer = ask("liquor", "--water", "20L", f"--to-pH={typed}", "--with", "vinegar")
        assert refused(answer)
        assert "pH" in answer.err
        assert "float" not in answer.err

    def test_what_a_reducer_will_do_to_the_pH(self, ask: Any) -> None:
        """Of 10 g of lye (250 mmol) 10.8 g of thiourea dioxide (100 mmol) leave 50 mmol as sulphate, as 2 g of lye."""
        tub = ("liquor", "--water", "20 L", "--at", "25 C", "--json")
        both = json.loads(
            ask(*tub, "--add", "sodium hydroxide=10 g", "--add", "thiourea dioxide=10.812 g").out
        )  # fmt: skip
        lye, left = (json.loads(ask(*tub, "--add", f"sodium hydroxide={grams} g").out) for grams in (10, 2))
        assert both["pH"] == pytest.approx(lye["pH"], abs=0.001)
        assert both["reducer_spent"]["pH"] == pytest.approx(left["pH"], abs=0.05)
        assert "reducer_spent" not in lye

    def test_what_is_assumed_of_a_reducer_is_said(self, ask: Any) -> None:
        """The text says that the reducer counts as unspent, and what comes once it is spent."""
        out = ask(*self.BATH, "--add", "thiourea dioxide=4 g").out
        assert "assumed above: the reducer is unspent" in out
        assert "once air has spent it: pH" in out
        assert "unspent" not in ask(*self.BATH).out

    WOOL = (
        *("liquor", "--water", "20 L", "--at", "47 C", "--add", "lye=3.3 g", "--add", "soda ash=8 g"),
        *("--add", "baking soda=16 g", "--add", "indigotin=3.24 g", "--add", "thiourea dioxide=5.2 g", "--json"),
    )

    def test_the_tap_counts(self, ask: Any) -> None:
        """Hard water takes what a little lye brings: published 10.182 where pure water has 11.0, 10.063 with chalk."""
        lye = ("liquor", "--water", "10 L", "--at", "47 C", "--add", "sodium hydroxide=2 g", "--json")
        pure = json.loads(ask(*lye).out)
        hard = json.loads(ask(*lye, "--hardness", "300", "--alkalinity", "250 mg/L").out)
        assert pure["pH"] == pytest.approx(11.01, abs=0.03)
        assert pure["pH_settled"] == pure["pH"]
        assert hard["pH"] == pytest.approx(10.182, abs=0.05)
        assert hard["pH_settled"] == pytest.approx(10.063, abs=0.05)

    def test_a_buffered_vat_from_fresh_to_spent(self, ask: Any) -> None:
        """Published for a wool vat in medium water: 9.57 fresh, 8.80 spent once chalk has settled."""
        answer = json.loads(ask(*self.WOOL, "--hardness", "150", "--alkalinity", "120").out)
        assert answer["pH"] == answer["pH_fresh"] == pytest.approx(9.57, abs=0.06)
        assert answer["pH_fresh"] > answer["pH_half"] > answer["pH_spent"] > answer["pH_low"]
        assert answer["pH_low"] == pytest.approx(8.8, abs=0.08)
        assert answer["sulphur_dioxide_ppm"] < 0.01

    @pytest.mark.parametrize(("share", "key"), [("0 %", "pH_fresh"), ("50", "pH_half"), ("100%", "pH_spent")])
    def test_spent_so_far(self, ask: Any, share: str, key: str) -> None:
        """The bath with so much of its reducer gone is the one named for it."""
        answer = json.loads(ask(*self.WOOL, "--spent", share).out)
        assert answer["pH"] == answer[key]

    def test_gas_over_a_vat_of_lye_alone(self, ask: Any) -> None:
        """A vat of lye alone ends sour, and says what may stand over it."""
        tub = ("liquor", "--water", "22 L", "--at", "47 C", "--add", "sodium hydroxide=1.96 g", "--add",
               "indigotin=3.24 g", "--add", "thiourea dioxide=7.34 g")  # fmt: skip
        answer = json.loads(ask(*tub, "--json").out)
        assert answer["pH_spent"] < 3
        assert 200 < answer["sulphur_dioxide_ppm"] < 600
        assert "ppm could stand in still, closed air" in ask(*tub).out

    def test_open_to_the_air(self, ask: Any) -> None:
        """By PHREEQC 40 meq/kg come to 9.55 in the air; the air is named no more among what is left out."""
        tub = ("liquor", "--water", "20 L", "--add", "sodium carbonate=40 g", "--json")
        shut, aired = json.loads(ask(*tub).out), json.loads(ask(*tub, "--open-air").out)
        assert aired["pH"] == pytest.approx(9.5, abs=0.1)
        assert shut["pH"] > 11
        assert any("carbon dioxide" in one for one in shut["left_out"])
        assert not any("carbon dioxide" in one for one in aired["left_out"])

    @pytest.mark.parametrize("name", ["baking soda", "baking-soda", "ammonia", "calcium chloride", "soda ash"])
    def test_more_materials(self, ask: Any, name: str) -> None:
        """Names are taken with spaces or hyphens."""
        assert ask("liquor", "--water", "20 L", "--add", f"{name}=5 g").code == 0

    def test_an_unknown_water_is_a_band(self, ask: Any) -> None:
        """Unknown water counts as medium, its band from soft to hard, and both are said."""
        answer = ask(*self.WOOL[:-1], "--hardness", "unknown")
        assert "hardness 150, alkalinity 120" in answer.out
        assert "a guess between 40 and 30, and 300 and 250" in answer.out
        assert "taken as pure" in ask(*self.BATH).out

    @pytest.mark.parametrize(
        ("words", "part"),
        [
            (("--hardness", "wet"), "a hardness of water"),
            (("--alkalinity", "120"), "hardness beside it"),
            (("--hardness", "9000"), "no tap water"),
            (("--spent", "120 %"), "no more than 100 %"),
            (("--spent", "much"), "a percentage"),
            (("--add", "oxygen=1 g"), "is not known"),
        ],
    )
    def test_what_the_bath_cannot_be(self, ask: Any, words: tuple[str, ...], part: str) -> None:
        """One sentence says what would be right."""
        answer = ask(*self.BATH, *words)
        assert refused(answer)
        assert part in answer.err

    def test_neither_acid_nor_alkali(self, ask: Any) -> None:
        """Indigo is refused with what would do."""
        answer = ask(*self.BATH, "--to-pH", "9", "--with", "indigo")
        assert refused(answer)
        assert "citric-acid" in answer.err


def value(out: str, figure: str) -> float:
    """Give a figure's value from printed JSON."""
    return float(next(row["value"] for row in json.loads(out) if row["id"] == figure))


@pytest.mark.parametrize("command", ["sheet", "log"])
class TestNoFile:
    """Files that cannot be read."""

    def test_missing(self, ask: Any, tmp_path: Path, command: str) -> None:
        """A file that is not there is refused in one sentence."""
        assert refused(ask(command, tmp_path / "gone.json"))

    def test_a_folder(self, ask: Any, tmp_path: Path, command: str) -> None:
        """A folder is no session."""
        assert refused(ask(command, tmp_path))

    @pytest.mark.parametrize(
        "content", [b"", b"{", b"[]", b"null", b"\x00\xff\xfe", b'{"format": "other"}', b"9" * 5000]
    )
    def test_no_session(self, ask: Any, tmp_path: Path, command: str, content: bytes) -> None:
        """Whatever stands in the file, the answer is one sentence and no traceback."""
        path = tmp_path / "odd.json"
        path.write_bytes(content)
        assert refused(ask(command, path))
        assert path.read_bytes() == content

    def test_no_word(self, ask: Any, command: str) -> None:
        """Without a file the command says where it is shown how to call it."""
        answer = ask(command)
        assert refused(answer)
        assert "vatside --help" in answer.err

    def test_a_word_too_many(self, ask: Any, day: Path, command: str) -> None:
        """A word that means nothing is refused."""
        assert refused(ask(command, day, "--loud"))


class TestCheck:
    """`vatside check FILE...`."""

    @pytest.mark.parametrize("name", sorted(path.name for path in SAMPLES.glob("*.json")))
    def test_the_samples_are_well(self, ask: Any, name: str) -> None:
        """Every sample day that is shipped has no problem."""
        answer = ask("check", SAMPLES / name)
        assert answer == Answer(0, f"{SAMPLES / name}: well\n", "")

    def test_a_damaged_file(self, ask: Any, day: Path) -> None:
        """Problems are printed, one a line with the file's name, and the code is 1."""
        day.write_text(day.read_text("utf-8").replace('"unit":"%"', '"unit":"furlong"'), "utf-8")
        answer = ask("check", day)
        assert answer.code == 1
        assert answer.out.splitlines()
        assert all(line.startswith(f"{day}: ") for line in answer.out.splitlines())

    def test_several_files(self, ask: Any, day: Path, tmp_path: Path) -> None:
        """One bad file among good ones makes the code 1, and each has its line."""
        bad = tmp_path / "bad.json"
        bad.write_text("{")
        answer = ask("check", day, bad)
        assert answer.code == 1
        assert f"{day}: well" in answer.out
        assert f"{bad}: " in answer.out

    def test_a_file_that_is_not_there(self, ask: Any, day: Path, tmp_path: Path) -> None:
        """The others are checked all the same; then one sentence names it, and the code is 2."""
        answer = ask("check", tmp_path / "gone.json", day)
        assert answer.code == 2
        assert answer.out == f"{day}: well\n"
        assert "gone.json: no such file" in answer.err

    def test_no_file(self, ask: Any) -> None:
        """Nothing to check is a question not understood."""
        assert refused(ask("check"))


class TestLog:
    """`vatside log FILE`."""

    def test_lines(self, ask: Any, day: Path) -> None:
        """What happened is told in one line an event, the soak's start among it."""
        answer = ask("log", day)
        assert answer.code == 0
        assert len(answer.out.splitlines()) > 5
        assert not answer.err

    def test_no_markup(self, ask: Any, day: Path) -> None:
        """A name that looks like markup or colour is printed as it was typed, without control characters."""
        day.write_text(day.read_text("utf-8").replace("Tea towels", "[red]Tea[/red]"), "utf-8")
        out = ask("log", day).out
        assert "\x1b" not in out
        assert "[red]Tea[/red]" in out


class TestCounts:
    """Numbers of tables and days."""

    @pytest.mark.parametrize(("command", "option"), [("handout", "--tables"), ("shelf", "--days")])
    def test_no_number(self, ask: Any, day: Path, command: str, option: str) -> None:
        """It is said what to write."""
        answer = ask(command, day, option, "abc")
        assert refused(answer)
        assert "write a whole number, not 'abc'" in answer.err


class TestCommandLine:
    """What stands around the commands."""

    @pytest.mark.parametrize("name", [*PLAIN, "sample", "guide"])
    def test_help_behind_a_command_shows_how_that_one_is_called(self, ask: Any, name: str) -> None:
        """Asked with or without other words; nothing is done, and no other command is told."""
        for words in ((name, "--help"), (name, "day.json", "-h")):
            answer = ask(*words)
            assert (answer.code, answer.err) == (0, "")
            calls = [line.split()[1] for line in answer.out.splitlines() if line.startswith("vatside")]
            assert calls == [name]

    @pytest.mark.parametrize("word", ["-h", "--help"])
    def test_help_names_every_command(self, ask: Any, word: str) -> None:
        """The help lists sheet, check and log."""
        answer = ask(word)
        assert answer.code == 0
        assert all(f"vatside {name}" in answer.out for name in ("sheet", "check", "log"))

    def test_version(self, ask: Any) -> None:
        """The version is one line."""
        assert ask("--version").out.startswith("vatside ")

    @pytest.mark.parametrize("words", [("--loud",), ("one.json", "two.json")])
    def test_not_understood(self, ask: Any, words: tuple[str, ...]) -> None:
        """Words that mean nothing end with 2 and a hint."""
        answer = ask(*words)
        assert answer.code == 2
        assert "vatside --help" in answer.err

    def test_a_closed_pipe_is_no_error(self, day: Path) -> None:
        """A reader that has seen enough, such as head, gets no traceback."""
        command = f"{sys.executable} -m vatside sheet {day} --json | head -1"
        done = subprocess.run(command, shell=True, capture_output=True, text=True, check=False)
        assert done.stdout == "[\n"
        assert "Traceback" not in done.stderr

    def test_without_a_terminal(self, day: Path) -> None:
        """With no terminal at all and a plain C locale, the sheet is printed."""
        environment = {
            "PATH": "/usr/bin:/bin",
            "TERM": "dumb",
            "LC_ALL": "C",
            "PYTHONUTF8": "0",
            "PYTHONPATH": ":".join(sys.path),
        }
        done = subprocess.run(
            [sys.executable, "-m", "vatside", "sheet", str(day)],
            capture_output=True, env=environment, stdin=subprocess.DEVNULL, check=False,
        )  # fmt: skip
        assert done.returncode == 0, done.stderr.decode()
        assert b"Indigo powder" in done.stdout
        assert b"Traceback" not in done.stderr
