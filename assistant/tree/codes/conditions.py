"""Codes of conditions that cannot be understood, or that never change their answer."""

from assistant.tree.codes.explanation import explained

CONDITIONS = (
    explained(
        "condition-always",
        "A condition is always true",
        """Whatever is measured, this branch is taken, so the ones behind it are never reached. Mostly "or" stands
        where "and" was meant.""",
        "condition",
        "superheat > 5 F or superheat < 12 F",
        "superheat > 5 F and superheat < 12 F",
    ),
    explained(
        "condition-bracket",
        "A bracket is missing",
        "An open bracket needs its closing one, and the other way round.",
        "condition",
        "(superheat > 12 F and subcooling < 3 F",
        "(superheat > 12 F and subcooling < 3 F) or subcooling < 1 F",
    ),
    explained(
        "condition-choices",
        "Several choices are not written as a list",
        """A test for one of several choices names them in a list. Between whole tests stands "or", which never joins
        choices: so it reads the same way wherever it stands. Inside of { } the whole condition is put in quotes.""",
        "condition",
        "filter_condition is clogged or missing",
        "filter_condition is one of [clogged, missing]",
    ),
    explained(
        "condition-constant",
        "Only fixed numbers are compared",
        "The answer is the same on every call, so there is nothing to decide.",
        "condition",
        "12 F > 5 F",
        "superheat > limits.superheat_band",
    ),
    explained(
        "condition-deep",
        "Too many brackets inside each other",
        "Nobody can follow it. Use two steps, one behind the other.",
        "condition",
        "((((((((((((((((((((((superheat > 12 F))))))))))))))))))))))",
        "superheat > 12 F",
    ),
    explained(
        "condition-grammar",
        "A condition is not written as conditions are",
        """Conditions are made of tests joined by "and", "or" and "not". A choice is tested with "is" and "is not", a
        number with <, <=, > and >=.""",
        "condition",
        "filter_condition = clogged",
        "filter_condition is clogged",
    ),
    explained(
        "condition-long",
        "A condition is too long",
        "Beyond 1000 characters it can no longer be read at a glance. Use two steps, one behind the other.",
        "condition",
        " and ".join(["superheat > superheat_target + limits.superheat_band"] * 20),
        "superheat > superheat_target + limits.superheat_band",
    ),
    explained(
        "condition-never",
        "A condition can never be true",
        """Its parts contradict each other, whatever is measured: a number would have to be above and below, or one
        observation two things at once. Mostly "and" stands where "or" was meant. Proven, not guessed; relations
        between numbers that only physics knows are not used.""",
        "condition",
        "superheat > 12 F and superheat < 5 F",
        "superheat > 12 F or superheat < 5 F",
    ),
    explained(
        "condition-repeat",
        "A choice is named twice in one test",
        "Naming it once has the same effect; another choice was probably meant.",
        "condition",
        "filter_condition is one of [clogged, clogged]",
        "filter_condition is one of [clogged, missing]",
    ),
)
