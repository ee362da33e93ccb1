"""`protoconch site`: an answer, or a sentence and status 2."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from protoconch.cli.main import main
from protoconch.hatchery.waterworks_reading import demo_waterworks_text


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["site", *words])


def test_the_invented_site_is_judged_drawn_and_reported(tmp_path: Path) -> None:
    report = tmp_path / "site.html"
    found = run("demo", "--report", str(report))
    assert found.exit_code == 0
    assert "does its job" in found.output
    assert "<svg" in report.read_text(encoding="utf-8")


def test_a_file_of_ones_own_is_judged_as_data(tmp_path: Path) -> None:
    file = tmp_path / "mine.toml"
    heading = '[hatchery]\nname = "Mine"\n\n'
    opened = demo_waterworks_text().replace("shut = true", "shut = false")
    file.write_text(heading + opened, encoding="utf-8")
    found = run(str(file), "--json", "--day", "2027-06-01")
    assert found.exit_code == 0
    data = json.loads(found.stdout)
    heaviest = data["findings"][0]
    assert (heaviest["weight"], heaviest["where"]) == ("danger", "UV bypass valve")
    assert "Mine" in run(str(file)).output


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("nowhere.toml",), "There is no file nowhere.toml."),
        (("demo", "--day", "soon"), "The day 'soon' is none"),
        (("demo", "--report", "/nowhere/at/all.html"), "cannot be written"),
        ((), "Missing argument"),
    ],
)
def test_bad_input_gives_a_sentence_and_status_2(words: tuple[str, ...], sentence: str) -> None:
    found = run(*words)
    assert found.exit_code == 2
    assert sentence in found.stderr
    assert "Traceback" not in found.output


def test_a_faulty_file_tells_every_fault_with_its_line(tmp_path: Path) -> None:
    file = tmp_path / "bad.toml"
    text = demo_waterworks_text().replace('size = 2\nlength = "35 m"', 'size = 9\nlength = "-3 m"')
    file.write_text(text, encoding="utf-8")
    found = run(str(file))
    assert found.exit_code == 2
    assert found.stderr.count("bad.toml, line") == 2
