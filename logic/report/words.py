"""The fixed wording of the papers, in one place, so that another language is another `Words`."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class Words:
    """What the customer summary says besides the data. Braces hold values. language: BCP 47 tag."""

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
    working_intro: str = "Every amount above, how it was worked out, and where the method comes from."
    source: str = "Source: {source}"
    at_least: str = "to be {confidence} sure of having enough: {amount}"
    page: str = "Page {number} of {count}"

    def day(self, day: date) -> str:
        """A date in full: 25 November 2026."""
        return f"{day.day} {self.months[day.month - 1]} {day.year}"


ENGLISH = Words()
