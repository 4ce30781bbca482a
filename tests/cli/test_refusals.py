"""Words that cannot be used: exit 2, one line that says what, where and how to mend it, no file."""

import pytest

from tests.cli.run import run

GOOD = ("28.6 x 0.9", "38.1", "--angle", "62")

BAD = [
    # tubes
    (("28,6 x 0.9", "38.1", "--angle", "62"), "branch: 28,6 x 0.9", "comma"),
    (("28.6 x 0,9", "38.1", "--angle", "62"), "branch", "write 0.9"),
    (("28.6 x 18ga", "38.1", "--angle", "62"), "branch", "18bwg"),
    (("28.6 x 99bwg", "38.1", "--angle", "62"), "branch", "99"),
    (("28.6", "38.1", "--angle", "62"), "branch", "has no wall"),
    (("28.6 x 15", "38.1", "--angle", "62"), "branch", "below 14.3 mm"),
    (("28.6 x 14.3", "38.1", "--angle", "62"), "branch", "too thick"),
    (("28.6 x 0", "38.1", "--angle", "62"), "branch: 28.6 x 0", "give its thickness"),
    (("28.6 x -0.9", "38.1", "--angle", "62"), "branch", "-0.9"),
    (("0 x 0.9", "38.1", "--angle", "62"), "branch: 0 x 0.9", "write one above 0"),
    (("28.6 0.9", "38.1", "--angle", "62"), "branch", "write 28.6 x 0.9"),
    (("", "38.1", "--angle", "62"), "branch: no tube", "write one such as 28.6 x 0.9"),
    (("tube", "38.1", "--angle", "62"), "branch: tube", "leave it out"),
    (("28.6 x", "38.1", "--angle", "62"), "branch", "such as x 0.9"),
    (("1-9/8in x 0.9", "38.1", "--angle", "62"), "branch", "9/8"),
    (("1/0in x 0.9", "38.1", "--angle", "62"), "branch", "1/0"),
    (("28.6furlong x 0.9", "38.1", "--angle", "62"), "branch", "furlong"),
    (("nan x 0.9", "38.1", "--angle", "62"), "branch", "nan"),
    (("arround 89.8 x 0.9", "38.1", "--angle", "62"), "branch", "around"),
    (("28.6 x 0.9", "38.1.2", "--angle", "62"), "main", "38.1.2"),
    (("28.6 x 0.9", "38.1 x 20", "--angle", "62"), "main", "too thick"),
    (("28.6 x 0.9", "-38.1", "--angle", "62"), "main: -38.1", "write one above 0"),
    (("plate 6", "38.1", "--angle", "62"), "branch", "cannot be coped"),
    # angles and offsets
    (("28.6 x 0.9", "38.1"), "--angle: missing", "--angle 62"),
    (("28.6 x 0.9", "38.1", "--angle"), "--angle", "--help"),
    (("28.6 x 0.9", "38.1", "--angle", "0"), "angle", "above 0 and below 180"),
    (("28.6 x 0.9", "38.1", "--angle", "180"), "angle", "above 0 and below 180"),
    (("28.6 x 0.9", "38.1", "--angle", "-62"), "angle", "above 0 and below 180"),
    (("28.6 x 0.9", "38.1", "--angle", "200"), "angle", "above 0 and below 180"),
    (("28.6 x 0.9", "38.1", "--angle", "62,5"), "--angle", "62.5"),
    (("28.6 x 0.9", "38.1", "--angle", "steep"), "--angle", "steep"),
    (("28.6 x 0.9", "38.1", "--angle", "62°75'"), "--angle", "75"),
    ((*GOOD, "--offset", "40"), "offset", "misses the main by 6.65 mm"),
    ((*GOOD, "--offset", "-40"), "offset", "misses the main by 6.65 mm"),
    ((*GOOD, "--offset", "3x"), "--offset", "3x"),
    ((*GOOD, "--offset", "3,5"), "--offset", "3.5"),
    ((*GOOD, "--turn", "north"), "--turn", "north"),
    (("28.6 x 1.5", "plate 6", "--angle", "60", "--main-turn", "90"), "angle",
     "runs along the plate: its side at clock 0 stands at 0.00 degrees"),
    (("oval 28.575 by 5 to 14 over 380 x 0.5", "plate 6", "--angle", "0.6", "--main-turn=-90"),
     "angle", "runs along the plate: its side at clock 0"),
    (("28.6 x 1.5", "plate 6", "--angle", "60", "--main-turn", "89.99"), "angle",
     "at 0.01 degrees to the face; change the angle or the turn until it stands at 0.5"),
    (("28.6 x 0.9", "38.1", "--angle", "0.01"), "angle", "meets it only beyond 100 m"),
    # options
    ((*GOOD, "--angle", "60"), "--angle", "stands twice; give it once"),
    ((*GOOD, "--force", "--force"), "--force", "stands twice; give it once"),
    ((*GOOD, "--cut", "squared"), "--cut", "square"),
    ((*GOOD, "--points", "3"), "points", "8 to 14400"),
    ((*GOOD, "--points", "many"), "--points", "many"),
    ((*GOOD, "--points", "99999999"), "points", "8 to 14400"),
    ((*GOOD, "--steps", "10"), "steps", "8, 12, 16 or 24"),
    ((*GOOD, "--paper", "a5"), "--paper", "known are a3, a4, legal, letter, roll"),
    ((*GOOD, "--paper", "leter"), "--paper", "did you mean letter?"),
    ((*GOOD, "--paper-thickness", "-1"), "paper thickness", "0 to 3 mm"),
    ((*GOOD, "--paper-thickness", "9"), "paper thickness", "0 to 3 mm"),
    ((*GOOD, "--printer", "99.4"), "--printer", "99.4,100.2"),
    ((*GOOD, "--printer", "99.4,1"), "printer", "90 to 110"),
    ((*GOOD, "--printer", "0,100"), "printer", "90 to 110"),
    ((*GOOD, "--overlap", "-1"), "overlap", "0 to 50 mm"),
    ((*GOOD, "--overlap", "80"), "overlap", "0 to 50 mm"),
    ((*GOOD, "--seam", "toe"), "--seam", "toe"),
    ((*GOOD, "--angel", "3"), "--angel is not an option", "did you mean --angle?"),
    ((*GOOD, "--pdf", ""), "--pdf", "cope.pdf"),
    ((*GOOD, "12"), "'12' is one tube too many", "quotes"),
    (("28.6 x 0.9", "--angle", "62"), "MAIN", "--help"),
]


@pytest.mark.parametrize(("words", "where", "cure"), BAD, ids=lambda value: str(value)[:60])
def test_bad_input_gets_one_line_that_names_the_fault_and_the_mend(words, where, cure, tmp_path):
    target = tmp_path / "cope.svg"
    status, out, err = run("joint", *words, "--svg", str(target))
    assert status == 2
    assert out == ""
    assert err.startswith("coper: ") and err.endswith("\n") and err.count("\n") == 1
    assert where in err and cure in err
    assert "; " in err  # the fault; the mend
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(("words", "said"), [
    ((), "no verb"), (("jiont",), "did you mean joint?"), (("--frobnicate",), "--frobnicate")])
def test_words_that_are_no_command_are_refused_in_one_line(words, said):
    status, out, err = run(*words)
    assert (status, out) == (2, "")
    assert said in err and err.count("\n") == 1


@pytest.mark.parametrize(("words", "said"), [
    (("28.6 x 0.9", "38.1", "--angle", "0.05"), "m long; check the angle"),
    (("oval 150 by 90 to 75 over 300 x 1.5", "plate 6", "--angle", "8"), "m long; check"),
    (("150 x 3", "150", "--angle", "1.9"), "pages of a4; check the angle, or use --paper roll"),
])
def test_a_template_beyond_any_paper_is_refused(words, said, tmp_path):
    status, _, err = run("joint", *words, "--pdf", str(tmp_path / "x.pdf"))
    assert status == 2
    assert said in err and err.count("\n") == 1
    assert not list(tmp_path.iterdir())


@pytest.mark.parametrize("option", ["--svg", "--pdf", "--table"])
def test_an_existing_file_is_kept_unless_force_is_given(option, tmp_path):
    target = tmp_path / "kept"
    target.write_text("mine")
    status, _, err = run("joint", *GOOD, option, str(target))
    assert status == 2 and "--force" in err and str(target) in err
    assert target.read_text() == "mine"
    assert run("joint", *GOOD, option, str(target), "--force")[0] == 0
    assert target.read_bytes() != b"mine"


def test_when_one_file_cannot_be_written_none_is(tmp_path):
    fine, bad = tmp_path / "cope.svg", tmp_path / "missing" / "cope.csv"
    status, _, err = run("joint", *GOOD, "--svg", str(fine), "--table", str(bad))
    assert status == 2 and str(bad) in err
    assert not list(tmp_path.iterdir())


def test_two_outputs_of_one_name_are_refused(tmp_path):
    target = str(tmp_path / "cope")
    status, _, err = run("joint", *GOOD, "--svg", target, "--table", target)
    assert status == 2 and "same name" in err
    assert not list(tmp_path.iterdir())


def test_an_output_with_the_name_of_a_later_svg_page_is_refused(tmp_path):
    status, _, err = run("joint", "150 x 3", "168", "--angle", "70", "--svg",
                         str(tmp_path / "cope.svg"), "--table", str(tmp_path / "cope-B.svg"))
    assert status == 2 and "same name" in err and "cope-B.svg" in err
    assert not list(tmp_path.iterdir())


def test_a_fault_of_copers_own_is_one_line_and_another_status(monkeypatch):
    def broken(*asked):
        raise ZeroDivisionError("planted")

    monkeypatch.setattr("coper.verbs.joint.joint", broken)
    monkeypatch.delenv("COPER_TRACEBACK", raising=False)
    status, out, err = run("joint", *GOOD)
    assert (status, out) == (3, "")
    assert "ZeroDivisionError" in err and err.count("\n") == 1
    monkeypatch.setenv("COPER_TRACEBACK", "1")
    with pytest.raises(ZeroDivisionError):
        run("joint", *GOOD)
