"""What earlier formats wrote: prompts spelled as one name, such as `do warm_bulb` or `caution live_panels @ filter`.

It is read where a user's record is brought up and where an exported file is taken in, and nowhere else.
"""

from assistant.call.answers import GO_ON, Written
from assistant.call.keys import NodeAt, PromptKey, Topic

_AT = " @ "
_AGAIN = "again "
_WHOLE = {"complaint": Topic.COMPLAINT, "tree": Topic.TREE}
_AT_NODES = {"do": Topic.ACT, "close": Topic.CLOSE_CALL, "check": Topic.CHECK_OUT, "settle": Topic.SETTLE}


def written_earlier(name: str, nth: int, text: str) -> Written:
    """Read an answer of a format in which a prompt was a name."""
    key = _key(name, nth)
    if key.topic is Topic.CLOSE_CALL and text != GO_ON:
        text = text.removeprefix(_AGAIN)
    return Written(key, text)


def _key(name: str, nth: int) -> PromptKey:
    if name in _WHOLE:
        return PromptKey(_WHOLE[name], nth=nth)
    word, _, rest = name.partition(" ")
    if word == "practice" and rest:
        return PromptKey(Topic.PRACTICE, rest, None, nth)
    if word == "caution" and _AT in rest:
        caution, _, node = rest.partition(_AT)
        return PromptKey(Topic.CAUTION, caution, NodeAt("", node), nth)
    if word in _AT_NODES and rest:
        return PromptKey(_AT_NODES[word], "", NodeAt("", rest), nth)
    return PromptKey(Topic.ENTRY, name, None, nth)
