"""Pull over time from CSV: what is read, and every fault at once."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hoistwright.faults import FaultsError
from hoistwright.prove.pull_csv import MOST_ROWS, read_pull_series

ROWS = [(t / 10, 350 + t, t / 20) for t in range(20)]


def text(head: str = "time [s],pull [N],travel [m]", mark: str = ",") -> str:
    return "\n".join([head, *(mark.join(f"{cell}" for cell in row) for row in ROWS)])


def test_it_reads_seconds_newtons_metres() -> None:
    series = read_pull_series(text(), load=2000, file="pull.csv")
    assert series.time[3] == pytest.approx(0.3)
    assert series.pull[19] == 369
    assert series.travel is not None
    assert series.travel[-1] == pytest.approx(0.95)
    assert (series.load, series.direction, series.source) == (2000, "raising", "pull.csv")


def test_other_units_other_order_decimal_comma_and_blank_rows() -> None:
    rows = "\n\n".join(f"{(350 + t) / 1000:.3f};{t}".replace(".", ",") for t in range(12))
    series = read_pull_series(f"\ufeffPull [kN];Time [min]\n{rows}\n", load=500)
    assert series.pull[1] == pytest.approx(351)
    assert series.time[1] == pytest.approx(60)
    assert series.travel is None


def test_pounds_force() -> None:
    rows = "\n".join(f"{t}\t10" for t in range(10))
    assert read_pull_series(f"time [s]\tpull [lbf]\n{rows}", load=1).pull[0] == pytest.approx(
        44.4822, abs=1e-4
    )


def faults(bad: str) -> list[str]:
    with pytest.raises(FaultsError) as caught:
        read_pull_series(bad, load=2000, file="pull.csv")
    return [str(fault) for fault in caught.value.faults]


def test_all_faults_are_told_at_once_with_row_and_column() -> None:
    lines = text().splitlines()
    lines[3], lines[7] = "0.2,much,0.1", "0.6,,0.3"
    found = faults("\n".join(lines))
    assert len(found) == 2
    assert "row 4, column pull: read 'much'; expected a figure" in found[0]
    assert "row 8, column pull: read nothing" in found[1]


@pytest.mark.parametrize(
    ("head", "said"),
    [
        ("time [s],force [N]", "no column pull"),
        ("a,b", "no column time and no column pull"),
        ("time [s],pull [m]", "'m' is a unit of length"),
        ("time [s],pull", "expected a unit of force"),
        ("time [s],pull [N],pull [N]", "a second time"),
        ("", "no column time"),
    ],
)
def test_a_wrong_first_row_says_what_may_stand_there(head: str, said: str) -> None:
    assert any(said in fault for fault in faults(text(head)))


def test_time_must_run_on_and_the_hand_must_not_go_back() -> None:
    lines = text().splitlines()
    lines[5] = "0.1,350,0.01"
    found = faults("\n".join(lines))
    assert "row 6, column time" in found[0]
    assert "row 6, column travel" in found[1]


def test_too_few_rows_and_too_many() -> None:
    assert "at least 10 rows" in faults("time [s],pull [N]\n1,2\n")[0]
    assert "at most" in faults("time [s],pull [N]\n" + "1,2\n" * (MOST_ROWS + 1))[0]


def test_a_file_of_nonsense_stops_at_a_bounded_list() -> None:
    found = faults("time [s],pull [N]\n" + "x,y\n" * 5000)
    assert len(found) <= 52
    assert "50 faults or more" in found[-1]


@pytest.mark.parametrize("cell", ["nan", "inf", "1_000", "1e400", "0x10", "=1+1"])
def test_what_is_no_plain_figure_is_refused(cell: str) -> None:
    lines = text().splitlines()
    lines[4] = f"0.3,{cell},0.15"
    assert "row 5, column pull" in faults("\n".join(lines))[0]


@given(st.text(max_size=300))
@settings(max_examples=300, deadline=None)
def test_no_text_gives_anything_but_a_series_or_faults(anything: str) -> None:
    try:
        read_pull_series(anything, load=1)
    except FaultsError as error:
        assert error.faults
