"""The fixed wording of the papers, in one place, so that another language is another `Words`."""

from dataclasses import dataclass
from datetime import date, timedelta


@dataclass(frozen=True)
class Words:
    """What the papers say besides the data. Braces hold values. language: BCP 47 tag."""

    language: str = "en-GB"
    months: tuple[str, ...] = (
        *("January", "February", "March", "April", "May", "June"),
        *("July", "August", "September", "October", "November", "December"),
    )
    title: str = "Renovation summary"
    client: str = "For"
    sward: str = "Ground"
    visit: str = "Visit"
    ground: str = "The ground"
    sketch_scale: str = "Sketch to scale, 1:{ratio} when printed at full size"
    sketch_left_off: str = "; {count} measured lengths are not lettered for lack of room"
    margin: str = (
        "± is the error to be expected of the measuring. Two times out of three the true area lies between "
        "{low} and {high}."
    )
    no_margin: str = "The measuring error of this area is not known."
    works: str = "The work"
    done: str = "What was done"
    planned: str = "Planned"
    used: str = "Used"
    left_out: str = "Left out: {reason}"
    not_done: str = "Not done"
    passes: str = "{count} passes"
    one_pass: str = "1 pass"
    minutes: str = "{count} min at work"
    agreed: str = "Agreed besides"
    agreed_by: str = "Agreed by {who}"
    signed: str = "Signed by {name}"
    signed_on: str = "Signed by {name}, {day}"
    works_margin: str = "Amounts carry the ± of the area that they are worked out from."
    notes: str = "Notes"
    aftercare: str = "Looking after it"
    cautions: str = "Safety"
    cautions_general: str = (
        "Follow the label and the safety sheet of every product, and keep children and pets away until it "
        "says they may return. Local law decides which products may be used, and by whom: where a licence or "
        "a certificate is needed, only a person who holds it may apply them. If this page and the label or "
        "the law differ, the label and the law are right."
    )
    working: str = "How we worked this out"
    working_intro: str = "Every amount, how it was worked out, and where the method comes from."
    source: str = "Source: {source}"
    at_least: str = "to be {confidence} sure of having enough: {amount}"
    contents: str = "Contents"
    found: str = "What was found"
    map: str = "Where the readings were taken"
    charts: str = "How it has gone"
    core: str = "The core"
    surface: str = "surface"
    photos: str = "Photos"
    before: str = "Before"
    after: str = "After"
    photo_unreadable: str = "This photo can't be read."
    photo_too_large: str = "This photo is too large to print: make it smaller."
    quote_titles: tuple[str, ...] = ("Quotation", "Agreed work", "Work done", "Work done")
    number: str = "Number"
    date_label: str = "Date"
    valid_until: str = "Holds until"
    for_area: str = "For {area} of ground"
    item: str = "What"
    price: str = "Price"
    net: str = "Total before tax"
    total: str = "Total"
    total_no_tax: str = "Total to pay"
    per_area: str = "That is {price} for each square metre, before tax."
    per_area_no_tax: str = "That is {price} for each square metre."
    options: str = "Could be had besides"
    options_note: str = "Not in the total. Prices before tax."
    options_note_no_tax: str = "Not in the total."
    variations: str = "Agreed since"
    variation_mark: str = "{name} (agreed since)"
    terms: str = "Terms"
    tax_number: str = "{tax} number {number}"
    tax_rounding: str = "{tax}: {words}."
    rough: str = (
        "Amounts of material are worked out from the measured ground and are rounded up, so that they last."
    )
    acceptance: str = "To accept"
    acceptance_words: str = "I accept this quotation as it stands above."
    signature: str = "Signature"
    job_sheet: str = "Job sheet"
    bring: str = "To bring"
    steps: str = "The day"
    started: str = "Started"
    finished: str = "Finished"
    people: str = "People"
    watch: str = "Mind"
    done_notes: str = "Notes of the day"
    allow: str = "allow {amount}"
    aftercare_title: str = "Looking after it"
    aftercare_intro: str = "What to do, and when. Keep this where you can see it."
    always: str = "At all times"
    normal: str = "What is normal"
    ring: str = "Ring us when"
    from_to: str = "{start} to {end}"
    season: str = "Season plan"
    season_strip: str = "The year at a glance"
    season_list: str = "Work by work"
    season_key: tuple[tuple[str, str], ...] = (
        ("work", "suits well"),
        ("possible", "possible"),
        ("care", "our visit"),
    )
    our_visit: str = "Our visit: {sentence}"
    page: str = "Page {number} of {count}"

    def day(self, day: date) -> str:
        """A date in full: 25 November 2026."""
        return f"{day.day} {self.months[day.month - 1]} {day.year}"

    def short_day(self, day: date) -> str:
        """A date in short: 25 Nov 2026."""
        return f"{day.day} {self.months[day.month - 1][:3]} {day.year}"

    def months_of(self, start: date, end: date) -> str:
        """Whole months from one to another by their names, anything else by its days."""
        if start.day != 1 or (end + timedelta(days=1)).day != 1:
            return self.days(start, end, short=True)
        first, last = (f"{self.months[day.month - 1]} {day.year}" for day in (start, end))
        if first == last:
            return first
        if start.year == end.year:
            first = first.removesuffix(f" {start.year}")
        return self.from_to.format(start=first, end=last)

    def days(self, start: date, end: date | None, short: bool = False) -> str:
        """One day, or from one to another."""
        full = self.short_day if short else self.day
        if end is None or end == start:
            return full(start)
        first = full(start)
        if start.year == end.year:
            first = first.removesuffix(f" {start.year}")
        return self.from_to.format(start=first, end=full(end))


ENGLISH = Words()
