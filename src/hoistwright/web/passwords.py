"""Reading a new password or PIN from a form, with what is wrong in plain words."""

from __future__ import annotations

from hoistwright.web.forms import Form
from hoistwright.web.security.secrets import SHORTEST_PASSWORD, password_fault, pin_fault


def read_password(form: Form, name: str) -> str:
    """The field `password`, typed again in `again`."""
    say = form.visit.say
    password = str(form.visit.form.get("password", ""))
    words = {
        "too short": say(
            "Too short. Take at least %(least)s characters; a few plain words will do.",
            least=SHORTEST_PASSWORD,
        ),
        "too long": say("Too long. Take at most 200 characters."),
        "too easy": say("Too easy to guess. Take a few words that do not belong together."),
    }
    fault = password_fault(password, name)
    if fault:
        form.wrong("password", words[fault])
    elif password != str(form.visit.form.get("again", "")):
        form.wrong("again", say("This is not what stands above. Type the same once more."))
    return password


def read_pin(form: Form) -> str:
    """The field `pin`; empty means no PIN."""
    say = form.visit.say
    pin = form.value("pin")
    fault = pin_fault(pin) if pin else ""
    if fault == "form":
        form.wrong("pin", say("A PIN has 4 to 8 digits and nothing else."))
    elif fault:
        form.wrong("pin", say("Too easy to guess: not all the same digit, and not 1234."))
    return pin
