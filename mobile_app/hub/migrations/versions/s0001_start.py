"""The first schema, with row-level security on PostgreSQL."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

WALLED = ("businesses", "devices", "pairing_codes", "changes", "records", "sums", "blobs", "pieces", "mail")
KEY = sa.Text().with_variant(sa.Text(collation="C"), "postgresql")
MINE = "business = current_setting('app.business', true)"


def upgrade() -> None:
    """Makes every table, then the wall between businesses."""
    _people()
    _log()
    _bytes()
    if op.get_bind().dialect.name == "postgresql":
        _wall()


def downgrade() -> None:
    """Takes everything away again."""
    for name in (*reversed(WALLED), "tries"):
        op.drop_table(name)


def _business() -> sa.Column[str]:
    return sa.Column("business", sa.String(16), primary_key=True)


def _people() -> None:
    op.create_table(
        "businesses",
        _business(),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
        sa.Column("epoch", sa.String(32), nullable=False),
        sa.Column("position", sa.BigInteger, nullable=False),
        sa.Column("kept_after", sa.BigInteger, nullable=False),
        sa.Column("mail", sa.JSON, nullable=False),
    )
    op.create_table(
        "devices",
        _business(),
        sa.Column("device", sa.String(16), primary_key=True),
        sa.Column("name", sa.Text, nullable=False),
        sa.Column("admin", sa.Boolean, nullable=False),
        sa.Column("token_hash", sa.String(64), nullable=False),
        sa.Column("paired", sa.String(32), nullable=False),
        sa.Column("seen", sa.String(32)),
        sa.Column("revoked", sa.String(32)),
    )
    op.create_table(
        "pairing_codes",
        _business(),
        sa.Column("code_hash", sa.String(64), primary_key=True),
        sa.Column("admin", sa.Boolean, nullable=False),
        sa.Column("expires", sa.String(32), nullable=False),
        sa.Column("used", sa.String(32)),
    )
    op.create_index("pairing_codes_by_hash", "pairing_codes", ["code_hash"])
    op.create_table(
        "tries",
        sa.Column("place", sa.String(64), primary_key=True),
        sa.Column("starts", sa.BigInteger, primary_key=True),
        sa.Column("count", sa.Integer, nullable=False),
    )


def _log() -> None:
    op.create_table(
        "changes",
        _business(),
        sa.Column("position", sa.BigInteger, primary_key=True, autoincrement=False),
        sa.Column("device", sa.String(16), nullable=False),
        sa.Column("number", sa.BigInteger, nullable=False),
        sa.Column("hash", sa.String(64), nullable=False),
        sa.Column("change", sa.Text, nullable=False),
        sa.Column("at", sa.String(32), nullable=False),
        sa.UniqueConstraint("business", "device", "number", name="changes_once"),
    )
    op.create_table(
        "records",
        _business(),
        sa.Column("kind", KEY, primary_key=True),
        sa.Column("record", KEY, primary_key=True),
        sa.Column("bucket", sa.Integer, nullable=False),
        sa.Column("state", sa.Text, nullable=False),
    )
    op.create_index("records_by_bucket", "records", ["business", "bucket", "kind", "record"])
    op.create_table(
        "sums",
        _business(),
        sa.Column("bucket", sa.Integer, primary_key=True, autoincrement=False),
        sa.Column("sum", sa.String(16), nullable=False),
    )


def _bytes() -> None:
    op.create_table(
        "blobs",
        _business(),
        sa.Column("sha256", sa.String(64), primary_key=True),
        sa.Column("size", sa.BigInteger, nullable=False),
        sa.Column("have", sa.BigInteger, nullable=False),
        sa.Column("whole", sa.Boolean, nullable=False),
        sa.Column("at", sa.String(32), nullable=False),
    )
    op.create_table(
        "pieces",
        _business(),
        sa.Column("sha256", sa.String(64), primary_key=True),
        sa.Column("start", sa.BigInteger, primary_key=True, autoincrement=False),
        sa.Column("length", sa.Integer, nullable=False),
        sa.Column("data", sa.LargeBinary),
    )
    op.create_table(
        "mail",
        _business(),
        sa.Column("message", KEY, primary_key=True),
        sa.Column("occasion", sa.String(32), primary_key=True),
        sa.Column("state", sa.String(16), nullable=False),
        sa.Column("paper", sa.String(64), nullable=False),
        sa.Column("tried", sa.Integer, nullable=False),
        sa.Column("due", sa.String(32), nullable=False),
        sa.Column("made", sa.String(32), nullable=False),
    )
    op.create_index("mail_by_state", "mail", ["business", "state", "due"])


def _wall() -> None:
    # FORCE: the policies hold for the owner of the tables too, who is the one that the hub logs in as.
    for table in WALLED:
        op.execute(f"ALTER TABLE {table} ENABLE ROW LEVEL SECURITY")
        op.execute(f"ALTER TABLE {table} FORCE ROW LEVEL SECURITY")
        op.execute(f"CREATE POLICY mine ON {table} USING ({MINE}) WITH CHECK ({MINE})")
    # Before a phone is paired nothing says whose it is: the code itself does, to whoever holds it.
    held = "code_hash = current_setting('app.code', true)"
    op.execute(f"CREATE POLICY held ON pairing_codes FOR SELECT USING ({held})")
    # The console goes through the businesses one by one, the sender of mail through those with mail due.
    asked = "current_setting('app.console', true) = 'yes'"
    for table in ("businesses", "mail"):
        op.execute(f"CREATE POLICY console ON {table} FOR SELECT USING ({asked})")
