"""The one family of errors: each carries a sentence in plain trade English, fit to be shown as it stands."""


class SwardError(Exception):
    """Anything that the user has to be told: `sentence` is what screen, command line and log show."""

    #: Used when the place that raises has nothing better to say.
    default = "Something went wrong and nothing was changed."

    def __init__(self, sentence: str = "") -> None:
        self.sentence = sentence or self.default
        super().__init__(self.sentence)


class BadValue(SwardError, ValueError):
    """A reading that cannot be used. `field_key` names the field that the sentence belongs to."""

    default = "This value cannot be used."

    def __init__(self, field_key: str, sentence: str = "") -> None:
        super().__init__(sentence)
        self.field_key = field_key


class ImpossibleShape(SwardError, ValueError):
    """Readings that are fine one by one but close no outline. `field_key`: the field to look at, if any."""

    default = "These readings do not make a shape."

    def __init__(self, sentence: str = "", field_key: str = "") -> None:
        super().__init__(sentence)
        self.field_key = field_key


class NotFound(SwardError, LookupError):
    """A record that is not (or no longer) in the book."""

    default = "This record is no longer in the book."


class Conflict(SwardError):
    """Two changes to the same thing that cannot both stand."""

    default = "This record was changed elsewhere in the meantime. Look at it again before saving."


class FileError(SwardError):
    """A file or message from outside that cannot be taken in. Nothing was changed."""

    default = "This file cannot be read. Nothing was changed."


class BrokenFile(FileError):
    """A file that is damaged, or is not what it says it is."""

    default = "This file is damaged or is not a Swardwright file. Nothing was changed."


class NewerFormat(FileError):
    """Data written by a later version of the app: kept as it is, never guessed at."""

    default = "This was written by a newer version of Swardwright. Update the app to change it."


class StorageError(SwardError):
    """The store could not keep what it was given. What was saved before is untouched."""

    default = "The change could not be saved. What was saved before is safe."


class StorageFull(StorageError):
    """No room left on the device."""

    default = (
        "There is no room left on this device, so the last change was not saved. "
        "What was saved before is safe. Free some space and save again."
    )


class StorageBusy(StorageError):
    """The store is held by another tab or window."""

    default = "Swardwright is already open in another tab or window. Close that one, then try again."


class StorageTorn(StorageError):
    """The store no longer answers as it should, so nothing more is written to it until it is opened again."""

    default = (
        "The store stopped answering properly, so the last change may not be saved. "
        "Close Swardwright and open it again before going on."
    )


class StorageMissing(StorageError):
    """There is no lasting store to be had, for example in a private window."""

    default = (
        "This browser gives Swardwright no lasting storage, as in a private window. "
        "Open it in an ordinary window; nothing can be kept here."
    )
