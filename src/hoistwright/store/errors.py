"""What can go wrong in a store, each with what it means for what was entered."""

from __future__ import annotations


class StoreError(Exception):
    """Something the store could not do. Nothing of what was asked has been saved."""


class ClashError(StoreError):
    """An id that the journal already has, with other content."""


class JournalError(StoreError):
    """The journal is not what was written: verify it and go back to a backup."""


class FullError(StoreError):
    """No room: nothing of this was saved; what was acknowledged before is safe."""


class ReadOnlyError(StoreError):
    """The store may be read only."""


class AwayError(StoreError):
    """The database cannot be reached, or has been busy for too long."""


class PictureError(StoreError):
    """A file that is no photo or paper the store takes."""
