"""Answers questions, one on each line of standard input, with what general reference libraries compute.

    coefficient R Ie SDS SD1 S1 T TL   -> C_s, by asce7-16
    period height                      -> T_a in seconds, by asce7-16
    share level T weights heights      -> C_vx of a level, by asce7-16; weights and heights are lists, comma between
    unit "us sign" "si sign"           -> how many SI units one U.S. unit is, by pint
    plane what points                  -> of the least-squares plane: east or north, its rise; spread, the standard
                                          deviation of the residuals; or, with a number for what, that residual;
                                          by numpy. Points are x,y,height with a semicolon between
    hull points                        -> area of the hull of the points in plan, by scipy
    height x y points                  -> height at a place on the Delaunay triangles of the points, by scipy; nan
                                          outside of them
    slopes what points                 -> greatest or mean size of the slope between any two points, by numpy
"""

import functools
import shlex
import sys

import numpy
import pint
from asce7_16 import seismic
from scipy.interpolate import LinearNDInterpolator
from scipy.spatial import ConvexHull

UNITS = pint.UnitRegistry()

# How pint spells what engineers write; a sign that is not here is spelled alike.
SPELLING = {
    "s": "second",
    "lb": "force_pound",
    "kip": "kip",
    "in": "inch",
    "ft": "foot",
    "sq in": "inch**2",
    "sq ft": "foot**2",
    "cu in": "inch**3",
    "psi": "force_pound / inch**2",
    "psf": "force_pound / foot**2",
    "plf": "force_pound / foot",
    "kip/in": "kip / inch",
    "pcf": "force_pound / foot**3",
    "lb-ft": "force_pound * foot",
    "lb-in": "force_pound * inch",
    "sq mm": "millimeter**2",
    "sq m": "meter**2",
    "cu mm": "millimeter**3",
    "kN/m": "kilonewton / meter",
    "kN/mm": "kilonewton / millimeter",
    "kN/cu m": "kilonewton / meter**3",
    "kN-m": "kilonewton * meter",
}


def numbers(text):
    return [float(number) for number in text.split(",")]


def spots(text):
    return numpy.array([numbers(point) for point in text.split(";")])


@functools.cache
def between(text):
    points = spots(text)
    return LinearNDInterpolator(points[:, :2], points[:, 2])


def plane(what, points):
    # About the middle of the places, so that nothing is lost to the size of the numbers.
    middle = points.mean(axis=0)
    x, y, height = (points - middle).T
    places = numpy.column_stack([x, y, numpy.ones_like(x)])
    rises, *_ = numpy.linalg.lstsq(places, height, rcond=None)
    residuals = height - places @ rises
    if what == "spread":
        return numpy.sqrt((residuals**2).sum() / (len(points) - 3))
    named = {"east": rises[0], "north": rises[1]}
    return named[what] if what in named else residuals[int(what)]


def slopes(what, points):
    first, second = numpy.triu_indices(len(points), 1)
    apart = points[first] - points[second]
    sizes = numpy.abs(apart[:, 2]) / numpy.linalg.norm(apart[:, :2], axis=1)
    return {"greatest": numpy.max, "mean": numpy.mean}[what](sizes)


def answer(question):
    kind, *given = shlex.split(question)
    if kind == "coefficient":
        return seismic.seismic_response_coeff(*map(float, given))
    if kind == "period":
        return seismic.approximate_period(float(given[0]), 0.02, 0.75)
    if kind == "share":
        level, period, weights, heights = given
        shares = seismic.vertical_force_dist(numbers(weights), numbers(heights), float(period))
        return shares[int(level)]
    if kind == "unit":
        us, si = (UNITS(SPELLING.get(sign, sign)) for sign in given)
        return (1 * us).to(si.units).magnitude / si.magnitude
    if kind == "plane":
        return plane(given[0], spots(given[1]))
    if kind == "hull":
        return ConvexHull(spots(given[0])[:, :2]).volume
    if kind == "height":
        x, y, points = given
        return between(points)(float(x), float(y))
    if kind == "slopes":
        return slopes(given[0], spots(given[1]))
    raise ValueError(f"no such question: {question}")


for line in sys.stdin:
    print(repr(float(answer(line))))
