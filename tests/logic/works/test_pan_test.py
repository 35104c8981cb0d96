"""Pan test: the rate that a pass of the topdresser really puts on."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logic.errors import BadValue
from logic.works.operation import Ground, Worked
from logic.works.operations import work_out


def catch(*grams: float, area: float = 100.0, **given_: Any) -> Worked:
    pan = {"pan_length": "400 mm", "pan_width": "300 mm", "caught": [f"{g!r} g" for g in grams]}
    return work_out({"operation": "pan_test", **pan, **given_}, Ground(area=area))


def value(worked: Worked, key: str) -> float:
    return worked.figure(key).nominal


def test_a_light_dressing_in_three_pans() -> None:
    # J. Daniels, The Goldilocks principle for sand topdressing, USGA, 2018: 150 lb per 1000 ft² is
    # 0.732 kg/m² and 0.457 mm at 100 lb/ft³; a pan of 0.12 m² then holds 87.9 g
    worked = catch(87.9, 87.4, 88.4, bulk_density="100 lb/ft^3", area=120.0)
    assert value(worked, "rate_caught") == pytest.approx(0.732, rel=0.001)
    assert value(worked, "depth_caught") == pytest.approx(0.457, rel=0.002)
    assert value(worked, "pass_mass") == pytest.approx(0.7325 * 120, rel=0.001)
    assert worked.figure("rate_caught").plus_minus > 0
    assert worked.warnings == ()


@given(grams=st.lists(st.floats(10, 1000), min_size=3, max_size=6), times=st.floats(0.2, 5))
@settings(max_examples=60, deadline=None)
def test_twice_the_sand_is_twice_the_rate(grams: list[float], times: float) -> None:
    one, more = catch(*grams), catch(*(g * times for g in grams))
    assert value(more, "rate_caught") == pytest.approx(value(one, "rate_caught") * times)


def test_ounces_in_a_pan_measured_in_inches() -> None:
    ounce = 28.349523125  # g, exact by definition
    sides: dict[str, Any] = {"pan_length": f"{400 / 25.4!r} in", "pan_width": f"{300 / 25.4!r} in"}
    imperial = catch(**sides, caught=[f"{90 / ounce!r} oz"] * 3)
    assert value(imperial, "rate_caught") == pytest.approx(value(catch(90, 90, 90), "rate_caught"))


def test_off_the_rate_wanted() -> None:
    worked = catch(99, 99, 99, wanted="0.75 kg/m^2")
    assert value(worked, "rate_off") == pytest.approx(10)
    (warning,) = worked.warnings
    assert "0.91 times the flow" in warning
    assert catch(93, 93, 93, wanted="0.75 kg/m^2").warnings == ()
    assert "rate_off" not in {f.key for f in catch(93, 93, 93).figures}


def test_too_few_pans_and_uneven_pans() -> None:
    assert any("Fewer than three" in w for w in catch(90, 91).warnings)
    assert any("spread unevenly" in w for w in catch(60, 90, 120).warnings)


def test_empty_pans_are_refused() -> None:
    with pytest.raises(BadValue, match="Every pan is empty") as refused:
        catch(0, 0, 0)
    assert refused.value.field_key == "caught"


def test_cautions() -> None:
    assert [c.key for c in catch(90, 90, 90).cautions] == ["sand_dust"]
