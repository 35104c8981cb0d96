"""Tax against worked examples and rules of tax authorities; each row names its source."""

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from logic.supply.money import currency, money, total
from logic.supply.tax import tax_on, tax_rule

ROWS = list(csv.DictReader(Path(__file__).with_name("tax.csv").open(encoding="utf-8")))


@pytest.mark.parametrize("row", ROWS, ids=[row["id"] for row in ROWS])
def test_tax_comes_out_as_the_authority_has_it(row: dict[str, str]) -> None:
    unit = currency("GBP")
    nets = [money(net, unit) for net in row["nets"].split()]
    rates = [Decimal(rate) for rate in row["rates"].split()]
    found = tax_on(list(zip(nets, rates, strict=True)), tax_rule(row["rule"]), unit)
    tax = total((one.tax.money for one in found), unit)
    assert f"{tax.amount}" == row["tax"]
    assert f"{(total(nets, unit) + tax).amount}" == row["gross"]
