"""Photos and papers in pieces."""

import hashlib
import random
from pathlib import Path

import pytest

from mobile_app.hub import offices
from mobile_app.hub.blobs import LARGEST
from mobile_app.hub.hub import Hub
from mobile_app.hub.pieces import InDatabase, InFolder, Pieces
from tests.hub.phones import Phone

PHOTO = random.Random(7).randbytes(600_001)
NAME = hashlib.sha256(PHOTO).hexdigest()


@pytest.fixture(params=["database", "folder"], autouse=True)
def kept(request: pytest.FixtureRequest, hub: Hub, tmp_path: Path) -> Pieces:
    hub.blobs.kept = InFolder(tmp_path / "blobs") if request.param == "folder" else InDatabase()
    return hub.blobs.kept


def put(phone: Phone, offset: int, data: bytes, name: str = NAME) -> tuple[int, dict]:
    answer = phone.ask("PUT", f"/blobs/{name}", params={"offset": offset}, content=data)
    return answer.status_code, answer.json()


def whole(phone: Phone) -> bytes:
    data = b""
    while True:
        answer = phone.ask("GET", f"/blobs/{NAME}", params={"offset": len(data), "limit": 250_000})
        assert answer.status_code == 200
        data += answer.content
        if len(data) == int(answer.headers["X-Size"]):
            return data


def test_a_photo_goes_up_in_pieces_and_comes_down_the_same(phone: Phone, office: Phone) -> None:
    state = phone.send_blob(NAME, PHOTO)
    assert (state["have"], state["done"]) == (len(PHOTO), True)
    assert whole(office) == PHOTO
    odd = office.ask("GET", f"/blobs/{NAME}", params={"offset": 199_999, "limit": 2})
    assert odd.content == PHOTO[199_999:200_001]
    assert odd.headers["Content-Type"] == "application/octet-stream"
    assert odd.headers["Content-Disposition"] == "attachment"
    assert office.ask("GET", f"/blobs/{NAME}", params={"offset": 1 << 39}).content == b""


def test_what_was_cut_off_goes_on_where_it_stopped(phone: Phone, office: Phone) -> None:
    opened = phone.ask("POST", f"/blobs/{NAME}", json={"size": len(PHOTO)}).json()
    assert (opened["have"], opened["done"]) == (0, False)
    put(phone, 0, PHOTO[:100_000])
    assert office.ask("GET", f"/blobs/{NAME}").status_code == 404
    status, said = put(phone, 200_000, PHOTO[200_000:300_000])
    assert (status, said["have"]) == (409, 100_000)
    status, said = put(phone, 0, PHOTO[:100_000])  # the answer to this was lost on its way
    assert (status, said["have"]) == (200, 100_000)
    status, said = put(office, 100_000, PHOTO[100_000:300_000])  # another phone has the same photo
    assert (status, said["have"]) == (200, 300_000)
    assert phone.send_blob(NAME, PHOTO)["done"] is True
    assert whole(office) == PHOTO
    assert put(phone, 0, PHOTO[:100_000])[1]["done"] is True


def test_a_whole_that_is_something_else_is_thrown_away_and_may_begin_again(
    phone: Phone, office: Phone
) -> None:
    phone.ask("POST", f"/blobs/{NAME}", json={"size": len(PHOTO)})
    for at in range(0, 600_000, 200_000):
        assert put(phone, at, PHOTO[at : at + 200_000])[0] == 200
    status, said = put(phone, 600_000, bytes([PHOTO[-1] ^ 1]))
    assert (status, said["error"]["code"], said["have"]) == (422, "bad-hash", 0)
    assert office.ask("GET", f"/blobs/{NAME}").status_code == 404
    assert phone.ask("POST", f"/blobs/{NAME}", json={"size": len(PHOTO)}).json()["have"] == 0
    assert phone.send_blob(NAME, PHOTO)["done"] is True
    assert whole(office) == PHOTO


def test_a_size_said_wrong_at_first_does_not_stand_for_ever(phone: Phone) -> None:
    phone.ask("POST", f"/blobs/{NAME}", json={"size": 3})
    assert put(phone, 0, PHOTO[:4])[0] == 409
    assert phone.send_blob(NAME, PHOTO)["done"] is True


def test_limits_and_names(phone: Phone) -> None:
    for size in (0, -1, LARGEST + 1):
        assert phone.ask("POST", f"/blobs/{NAME}", json={"size": size}).status_code == 413
    phone.ask("POST", f"/blobs/{NAME}", json={"size": len(PHOTO)})
    assert put(phone, 0, PHOTO[: 256 * 1024 + 1])[0] == 413
    assert put(phone, 0, b"")[0] == 413
    for name in ("x", NAME.upper(), "..%2F..%2Fetc", f"{NAME}0"):
        assert phone.ask("POST", f"/blobs/{name}", json={"size": 1}).status_code in (400, 404, 405)
    assert put(phone, 0, b"x", "0" * 64)[0] == 404


def test_another_business_has_to_send_its_own_copy(hub: Hub, phone: Phone) -> None:
    other = Phone.paired(phone.web, hub.database, offices.make_business(hub.database, "Another firm"))
    phone.send_blob(NAME, PHOTO)
    assert other.ask("GET", f"/blobs/{NAME}").status_code == 404
    assert other.ask("POST", f"/blobs/{NAME}", json={"size": len(PHOTO)}).json()["have"] == 0


def test_records_never_wait_for_photos(phone: Phone, office: Phone) -> None:
    cursor = office.start()
    phone.push(phone.change(1, "p", "photos", sha256=NAME))
    assert len(office.pull(cursor)["changes"]) == 1
    assert office.ask("GET", f"/blobs/{NAME}").status_code == 404
