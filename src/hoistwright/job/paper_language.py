"""Which language a customer's papers are in."""

from __future__ import annotations

from hoistwright.job.job_sheet import Customer
from hoistwright.job.shop import Shop
from hoistwright.language import LANGUAGES


def paper_language(customer: Customer | None, shop: Shop | None, asked: str = "") -> str:
    """The code of the language: the one asked for, else the customer's, else the shop's.

    >>> paper_language(Customer(language="fr"), None)
    'fr'
    >>> paper_language(Customer(language="fr"), None, "en"), paper_language(None, None, "??")
    ('en', 'en')
    """
    codes = (asked, customer.language if customer else "", shop.language if shop else "")
    return next((code for code in codes if code in LANGUAGES), "en")
