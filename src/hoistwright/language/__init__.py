"""The languages of pages and papers: messages, and numbers and dates as each writes them."""

from hoistwright.language.catalogue import LANGUAGES, Language, language, marked

__all__ = ["LANGUAGES", "Language", "language", "marked"]
