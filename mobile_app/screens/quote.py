"""The quote: lines and what they come to, options, the steps from quote to invoice, and what the job
earned."""

from __future__ import annotations

import flet as ft

from logic.errors import BadValue
from logic.records import trade as stored
from logic.records.standing import Standing
from logic.records.types import Visit
from logic.supply import business, labour
from logic.supply.estimate import Estimate
from logic.supply.quote import Quote, price_per_area, totals
from mobile_app import trade
from mobile_app.app import App
from mobile_app.parts import look
from mobile_app.parts.amounts import amount_line
from mobile_app.parts.box import text_box
from mobile_app.parts.folded import folded
from mobile_app.parts.form import form_view

_STATES = {
    "quote": "A quote, not yet accepted",
    "accepted": "Accepted on {day}",
    "done": "Done on {day}",
    "invoiced": "Invoiced on {day}",
}
_NEXT = {
    "quote": ("accepted", "It is accepted"),
    "accepted": ("done", "It is done"),
    "done": ("invoiced", "It is invoiced"),
}


def body(app: App, visit: Visit, stood: Standing) -> list[ft.Control]:
    """The quote of a visit."""
    back = look.plain("All papers", lambda _: app.go(f"/visit/{visit.id}/paper"), ft.Icons.ARROW_BACK)
    rows: list[ft.Control] = [ft.Row([back])]
    try:
        kept = stored.quote_of(visit)
    except BadValue as bad:
        return [*rows, look.remark(bad.sentence, serious=True)]
    found = trade.reckoned(app, visit) if kept is None else None
    made = kept or (found.quote if found else None)
    if stood.area is None or made is None:
        return [*rows, look.quiet("Measure the green and choose the works first: prices follow from them.")]
    if kept is None:
        rows += _asked(app, visit, found)
    rows.append(_sheet(app, visit, made, stood))
    rows += _steps(app, visit, made)
    return rows


def _asked(app: App, visit: Visit, found: Estimate | None) -> list[ft.Control]:
    """What is asked before acceptance, and what still has no price."""
    rows: list[ft.Control] = []
    if found and found.unpriced:
        rows.append(look.remark("Not priced yet: " + "; ".join(found.unpriced) + "."))

    def terms() -> ft.Control:
        given = app.settings.business
        return form_view(
            business.FORM,
            given,
            business.read(given),
            app.system,
            lambda path, value: trade.change_terms(app, path, value),
            "business",
        )

    first = trade.terms(app).hourly is None
    rows.append(folded("terms", "Your terms of trade", terms, first))

    def extras() -> ft.Control:
        clean = {**visit.supply, "extras": [_signless(row) for row in visit.supply.get("extras") or ()]}
        return form_view(
            stored.EXTRAS,
            visit.supply,
            stored.EXTRAS.read(clean),
            app.system,
            lambda path, value: trade.change(app, path, value),
            f"extras-{visit.id}",
        )

    rows.append(folded("extras", "Travel, hire and other lines", extras))
    return rows


def _signless(row: object) -> object:
    return {**row, "amount": business.without_sign(row.get("amount"))} if isinstance(row, dict) else row


def _sheet(app: App, visit: Visit, made: Quote, stood: Standing) -> ft.Control:
    """Lines, options and totals, as they stand on the paper."""
    sums = totals(made)
    when = made.dates.get(made.state, made.day)
    lines: list[ft.Control] = [
        look.title(f"Number {made.number}"),
        look.quiet(_STATES[made.state].format(day=f"{when:%d %B %Y}")),
    ]
    for line in made.counted:
        lines += [look.rule(), amount_line(line.key, line.name, line.net.text(), line.detail, line.steps)]
    for line in made.options:
        named = f"{line.name} (offered besides)"
        lines += [look.rule(), amount_line(line.key, named, line.net.text(), line.detail, line.steps)]
    if made.state == "quote":
        choosable = [line for line in made.lines if line.option]
        lines += [
            look.choice(
                f"They take it: {line.name}",
                line.chosen,
                lambda _, k=line.key: trade.toggle(app, "chosen", k),
            )
            for line in choosable
        ]
    lines.append(look.rule())
    if sums.taxed:
        lines.append(amount_line("net", sums.net.name, sums.net.text(), "", sums.net.working()))
        lines += [amount_line(t.tax.key, t.tax.name, t.tax.text(), "", t.tax.working()) for t in sums.taxes]
    lines.append(amount_line("gross", "Total", sums.gross.text(), "", sums.gross.working()))
    if stood.area:
        each = price_per_area(made, stood.area)
        lines.append(
            amount_line(each.key, each.name, each.text(), "before tax" if sums.taxed else "", each.working())
        )
    return look.card(*lines, spacing=2)


def _steps(app: App, visit: Visit, made: Quote) -> list[ft.Control]:
    """From quote to invoice, with what each state still wants."""
    rows: list[ft.Control] = []
    if made.state in ("accepted", "done"):
        rows.append(look.keyed(f"since-{len(made.lines)}", Since, app))
    if made.state in ("done", "invoiced"):
        rows += _after(app, visit, made)
    if made.state in _NEXT:
        state, words = _NEXT[made.state]
        rows.append(look.primary(words, lambda _: trade.move_on(app, state), ft.Icons.CHECK))
    if made.state in ("done", "invoiced"):
        rows.append(
            look.secondary("Save the invoice data", lambda _: trade.give_invoice_data(app), ft.Icons.SAVE_ALT)
        )
    if made.state != "quote":
        rows.append(look.plain("One step back", lambda _: trade.move_back(app), ft.Icons.UNDO))
    return rows


@ft.component
def Since(app: App) -> ft.Control:
    """A variation: what was agreed since, and what it costs."""
    name, set_name = ft.use_state("")
    amount, set_amount = ft.use_state("")

    def draw() -> ft.Control:
        return look.stack(
            ft.Row([text_box("What was agreed", name, set_name, key="since-name")]),
            ft.Row(
                [text_box("For", amount, set_amount, keyboard=ft.KeyboardType.NUMBER, key="since-amount")]
            ),
            look.secondary("Add it", lambda _: trade.add_variation(app, name, amount), ft.Icons.ADD),
        )

    return folded("since", "Agreed since", draw)


def _after(app: App, visit: Visit, made: Quote) -> list[ft.Control]:
    """Times and costs as they really were, and what the job earned."""

    def times() -> ft.Control:
        rows: list[ft.Control] = [
            look.quiet("Timed works teach the app how long you take; the spread is shown with each price.")
        ]
        for worked in app.standing(visit).worked:
            key = worked.operation.key
            given = stored.times_of(visit, key)
            rows.append(ft.Text(worked.operation.name, size=look.BODY, weight=ft.FontWeight.BOLD))
            rows.append(
                form_view(
                    labour.FORM,
                    given,
                    labour.FORM.read(given),
                    app.system,
                    lambda path, value, k=key: app.edit(
                        stored.with_time(app.visit_in_hand(), k, path, value)
                    ),  # type: ignore[misc]
                    f"time-{visit.id}-{key}",
                )
            )
        return look.stack(*rows, spacing=12)

    def spent() -> ft.Control:
        return form_view(
            stored.SPENT,
            visit.supply,
            stored.SPENT.read({"spent": [_signless(row) for row in visit.supply.get("spent") or ()]}),
            app.system,
            lambda path, value: trade.change(app, path, value),
            f"spent-{visit.id}",
        )

    sums = [
        amount_line(one.key, one.name, one.text(), "", one.working())
        for one in trade.what_was_earned(app, visit, made)
    ]
    return [
        folded("times", "How long it took", times),
        folded("spent", "What was spent", spent),
        look.card(look.title("What the job earned"), *sums, spacing=4),
    ]
