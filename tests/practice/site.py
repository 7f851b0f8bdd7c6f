"""Practice calls for tests, with a fault that is said, and a trainee who answers everything with Enter."""

from assistant.call.keys import PromptKey
from assistant.call.prompts import Acknowledge, CheckOut
from assistant.practice.session.practice_call import PracticeCall
from assistant.practice.session.practice_prompts import VERDICT
from assistant.practice.training.kept import SetCall
from assistant.practice.visit.instruments import Kit
from assistant.practice.visit.scenario import Scenario
from assistant.practice.visit.site import Hidden, Site, guises
from assistant.quantity import fahrenheit
from assistant.session.responses import Accepted, Rejected, Response
from assistant.simulator.faults import FAULTS, PresentFault
from assistant.simulator.plant import DeviceKind
from assistant.simulator.system import Wish

COMPLAINT = "It runs all day and never gets down to what we set."


def call_with(*causes: str, device: DeviceKind = "txv", minutes: float | None = None, **severities: float) -> SetCall:
    """A practice call in which some causes are hidden, each as usual or with the severity said."""
    known = {one.cause: one for one in guises(heat_pump=True)}
    hidden = []
    for cause in (*causes, *severities):
        fault = FAULTS[known[cause].fault]
        severity = severities.get(cause, fault.usual)
        hidden.append(Hidden(cause, PresentFault(fault, severity), known[cause].place, known[cause].looks[0]))
    wish = Wish("R-410A", 3.0, device, fahrenheit(95.0), fahrenheit(78.0), fahrenheit(65.0))
    site = Site(wish, tuple(hidden))
    return SetCall(Scenario(7, 0, site, COMPLAINT, "poor_cooling", Kit(7)), minutes)


def reply_to(session: PracticeCall) -> str:
    """What a trainee types who takes everything as it comes."""
    prompt = session.prompt
    if isinstance(prompt, Acknowledge):
        return str(prompt.place) if prompt.is_listed else "ok"
    if prompt is not None and prompt.key == VERDICT:
        return "agree"
    return "yes" if isinstance(prompt, CheckOut) else ""


def go_on(session: PracticeCall, until: str | PromptKey = "", most: int = 120) -> list[str]:
    """Take everything as it comes up to the prompt of a name, or to the end; gives what was typed."""
    typed = []
    while session.prompt is not None and until not in (session.prompt.name, session.prompt.key):
        assert len(typed) < most
        typed.append(reply_to(session))
        assert isinstance(session.say(typed[-1]), Accepted), (session.prompt, typed[-1])
    return typed


def said(session: PracticeCall, *texts: str) -> Response:
    """Type some replies, all of which but the last must be taken; gives what came of the last."""
    for text in texts[:-1]:
        assert not isinstance(session.say(text), Rejected), text
    return session.say(texts[-1])
