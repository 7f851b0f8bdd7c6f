"""Every outside value, and the table that tells of them."""

import pytest

from tests.reference import readme
from tests.reference.checks import HERE, all_checks

CHECKS = all_checks()


@pytest.mark.parametrize("check", CHECKS, ids=[f"{check.name} {check.source[:14]}" for check in CHECKS])
def test_outside_value(check):
    """Our value agrees with the published one, within the tolerance that its source deserves."""
    assert check.ours() == pytest.approx(check.value, abs=check.allowed), check.source


def test_every_value_names_its_source():
    """No outside value is without a source and a tolerance."""
    assert all(check.source and check.allowed > 0 for check in CHECKS)
    assert len(CHECKS) > 180


def test_the_table_is_up_to_date():
    """The README of this folder is what its script would write now."""
    assert (HERE / "README.md").read_text(encoding="utf-8") == readme.text()
