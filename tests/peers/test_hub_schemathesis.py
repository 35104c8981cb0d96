"""Requests made up from the hub's own OpenAPI document (schemathesis), by a phone of one business of two.

Whatever is asked: no answer is a failure of the hub, each is one that the wire describes, and the other
business is as it was and shows nowhere.
"""

from typing import Any

import pytest
import schemathesis
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from mobile_app.hub import offices
from mobile_app.hub.backup import row_counts
from mobile_app.hub.hub import Hub, Settings, open_hub
from mobile_app.hub.service import service
from tests.hub.phones import Phone, web_of

SECRET = "Nobody else's business"


@pytest.fixture(scope="module")
def hub(tmp_path_factory: pytest.TempPathFactory) -> Hub:
    made = open_hub(Settings(f"sqlite:///{tmp_path_factory.mktemp('hub') / 'hub.sqlite'}"))
    made.ready()
    return made


@pytest.fixture(scope="module")
def mine(hub: Hub) -> Phone:
    """A phone that runs the office of one business."""
    return Phone.paired(web_of(service(hub)), hub.database, hub.database.all_businesses()[0], admin=True)


@pytest.fixture(scope="module")
def theirs(hub: Hub) -> Phone:
    """A phone of another business, which has records."""
    other = Phone.paired(web_of(service(hub)), hub.database, offices.make_business(hub.database, SECRET))
    other.push(other.change(1, "theirs", name=SECRET))
    return other


def operations() -> list[Any]:
    """Every operation of the hub's description of itself, which needs no database."""
    web = web_of(service(open_hub(Settings("sqlite://"))))
    schema = schemathesis.openapi.from_dict(web.get("/api/openapi.json").json())
    return [found.ok() for found in schema.get_all_operations()]


@pytest.mark.parametrize("operation", operations(), ids=lambda operation: operation.label)
@settings(max_examples=12, derandomize=True, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_no_request_breaks_the_hub_or_the_wall(
    data: st.DataObject, operation: Any, hub: Hub, mine: Phone, theirs: Phone
) -> None:
    before = row_counts(hub.database, theirs.business)
    case = data.draw(operation.as_strategy())
    asked = case.as_transport_kwargs(base_url="http://hub.example.com")
    asked["headers"] = {**asked["headers"], "Authorization": f"Bearer {mine.token}"}
    names = {"data": "content"}
    asked = {names.get(name, name): value for name, value in asked.items() if name != "cookies"}
    answer = mine.web.request(**asked)
    assert answer.status_code < 500, answer.text
    if answer.status_code >= 400:
        error = answer.json()["error"]
        assert error["code"]
        assert error["sentence"]
    assert SECRET not in answer.text
    assert theirs.business not in answer.text
    assert row_counts(hub.database, theirs.business) == before
    assert theirs.ask("GET", "/devices").status_code == 200
