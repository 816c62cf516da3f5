"""The extremes of an envelope by a linear programme for every set of points in contact: slow, and without integers."""

import itertools

import numpy as np

from envelope import Envelope, model_of
from load_case import LoadCase
from solvers import minimum_lp


def bounds(envelope: Envelope) -> tuple[np.ndarray, np.ndarray]:
    """Least and greatest reactions (N) with the tangents that the envelope ended with.

    Sets of three and more are enough: a load on two points can turn about their line until a third just touches.
    """
    case: LoadCase = envelope.case
    model, columns = model_of(case, envelope.tangents, envelope.pressed, envelope.gaps)
    form, limits = model.linear_form(), np.column_stack([model.lower, model.upper])
    count = len(case.points)
    least, greatest = np.full(count, np.inf), np.full(count, -np.inf)
    for contact in itertools.product((0.0, 1.0), repeat=count):
        limits[columns.contacts] = np.column_stack([contact, contact])
        if sum(contact) < 3 or minimum_lp(form, limits, np.zeros(len(limits)), envelope.clock) is None:
            continue
        for j, column in enumerate(columns.reactions):
            for sign in (1.0, -1.0):
                objective = np.zeros(len(limits))
                objective[column] = sign
                x = minimum_lp(form, limits, objective, envelope.clock)
                if x is not None:
                    least[j], greatest[j] = min(least[j], x[column]), max(greatest[j], x[column])
    return least * case.weight[2], greatest * case.weight[2]
