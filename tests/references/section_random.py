"""A hundred random sections by two libraries, for tests/outside/random_sections.rs.

Run with concreteproperties 0.7.0 and structuralcodes 0.7.2 installed:  python section_random.py > section_random.json
Columns, jacketed columns, columns with one wing or two, and beams with a flange, with the rectangular block
(concreteproperties, concrete under bars removed) and with the parabola-rectangle (concreteproperties as well, and
structuralcodes, which counts concrete under bars twice). The draw is fixed. Units mm, MPa, kN, kNm.
"""

import json
import math
import random

from shapely import Polygon
from structuralcodes.geometry import CompoundGeometry, SurfaceGeometry, add_reinforcement
from structuralcodes.materials.concrete import create_concrete
from structuralcodes.materials.constitutive_laws import ElasticPlastic, ParabolaRectangle
from structuralcodes.materials.reinforcement import create_reinforcement
from structuralcodes.sections import GenericSection

import section_pm

section_pm.PIECES = 40
COUNT = 100
RATIOS = (0.02, 0.15, 0.35)


def ring(dice, w, d, edge, fy, bar):
    """Bars in the corners and evenly along the faces."""
    x, y = w / 2 - edge, d / 2 - edge
    across, along = dice.randint(0, 3), dice.randint(0, 3)
    area = round(math.pi * bar * bar / 4, 1)
    at = [(sx * x, sy * y) for sx in (-1, 1) for sy in (-1, 1)]
    at += [(x * (2 * i / (across + 1) - 1), sy * y) for i in range(1, across + 1) for sy in (-1, 1)]
    at += [(sx * x, y * (2 * i / (along + 1) - 1)) for i in range(1, along + 1) for sx in (-1, 1)]
    return [[round(px, 2), round(py, 2), area, fy] for px, py in at]


def draw(dice):
    """Rectangles as (x0, x1, y0, y1, strength) and bars."""
    ten = lambda low, high: 10 * dice.randint(low, high)
    w, d = ten(25, 60), ten(25, 70)
    old, new = dice.randint(8, 30), dice.randint(20, 40)
    fy, fy_new = dice.choice([240, 300, 330, 400]), dice.choice([420, 500])
    bar = dice.choice([14, 16, 19, 22, 25])
    rects = [(-w / 2, w / 2, -d / 2, d / 2, old)]
    bars = ring(dice, w, d, 50, fy, bar)
    kind = dice.choice(["column", "column", "jacket", "one wing", "two wings", "beam"])
    if kind == "jacket":
        t = ten(8, 15)
        x, y = w / 2 + t, d / 2 + t
        rects += [(-x, x, d / 2, y, new), (-x, x, -y, -d / 2, new), (-x, -w / 2, -d / 2, d / 2, new), (w / 2, x, -d / 2, d / 2, new)]
        bars += ring(dice, 2 * x, 2 * y, 45, fy_new, dice.choice([16, 19, 22]))
    elif kind in ("one wing", "two wings"):
        length, t = ten(30, 90), min(ten(15, 25), w)
        rows = [length - 60 - 200 * i for i in range(5) if length - 60 - 200 * i > 60]
        for side in (1,) if kind == "one wing" else (1, -1):
            y0, y1 = sorted((side * d / 2, side * (d / 2 + length)))
            rects.append((-t / 2, t / 2, y0, y1, new))
            bars += [[x, side * (d / 2 + r), 132.7, fy_new] for r in rows for x in (-t / 2 + 40, t / 2 - 40)]
    elif kind == "beam":
        flange, slab = ten(80, 160), ten(10, 16)
        rects = [(-w / 2, w / 2, -d / 2, d / 2 - slab, old), (-flange / 2, flange / 2, d / 2 - slab, d / 2, old)]
    return kind, rects, bars


def to_rects(rects, law):
    return [section_pm.rect(x0, x1, y0, y1, law(strength)) for x0, x1, y0, y1, strength in rects]


def block(strength):
    return section_pm.block(strength, max(0.65, min(0.85, 0.85 - 0.05 * (strength - 28.0) / 7.0)))


def by_structuralcodes(rects, bars, about, axials):
    parts = []
    for x0, x1, y0, y1, strength in rects:
        law = ParabolaRectangle(fc=strength, eps_0=-0.002, eps_u=-0.0035, n=2.0)
        concrete = create_concrete(fck=max(12, strength), design_code="ec2_2004", constitutive_law=law)
        parts.append(SurfaceGeometry(Polygon([(x0, y0 - about), (x1, y0 - about), (x1, y1 - about), (x0, y1 - about)]), concrete))
    geometry = CompoundGeometry(parts)
    for x, y, area, fy in bars:
        steel = create_reinforcement(
            fyk=fy, Es=200e3, ftk=fy, epsuk=1.0, design_code="ec2_2004",
            constitutive_law=ElasticPlastic(E=200e3, fy=fy, eps_su=1.0),
        )
        geometry = add_reinforcement(geometry, (x, y - about), math.sqrt(4 * area / math.pi), steel)
    section = GenericSection(geometry, integrator="marin")
    calculator = section.section_calculator
    moments = []
    for axial in axials:
        both = []
        for theta in (0.0, math.pi):
            result = calculator.calculate_bending_strength(theta=theta, n=-axial * 1e3)
            both.append(round(abs(result.m_y) / 1e6, 5))
        moments.append(both)
    return moments


def by_concreteproperties(rects, bars, about, axials):
    section = section_pm.section_of(rects, bars)
    section.moment_centroid = (0.0, about)
    moments = []
    for axial in axials:
        # Angle 0 compresses the side of largest y.
        both = [section.ultimate_bending_capacity(theta=theta, n=axial * 1e3) for theta in (0.0, math.pi)]
        moments.append([round(abs(result.m_x) / 1e6, 5) for result in both])
    return moments


def main():
    dice = random.Random(20260101)
    libraries = "concreteproperties 0.7.0, structuralcodes 0.7.2"
    print('{"libraries": "%s", "cases": [' % libraries)
    for number in range(1, COUNT + 1):
        kind, rects, bars = draw(dice)
        area = sum((x1 - x0) * (y1 - y0) for x0, x1, y0, y1, _ in rects)
        about = sum((x1 - x0) * (y1**2 - y0**2) / 2 for x0, x1, y0, y1, _ in rects) / area
        squash = sum((x1 - x0) * (y1 - y0) * strength for x0, x1, y0, y1, strength in rects)
        axials = [round(ratio * squash / 1e3) for ratio in RATIOS]
        case = {"name": f"{number}, {kind}", "rects": rects, "bars": bars, "axial_kn": axials}
        case["block"] = by_concreteproperties(to_rects(rects, block), bars, about, axials)
        case["parabola"] = by_concreteproperties(to_rects(rects, section_pm.parabola), bars, about, axials)
        case["parabola_twice"] = by_structuralcodes(rects, bars, about, axials)
        # Each as it is done: the whole takes most of an hour.
        print(json.dumps(case) + ("," if number < COUNT else "\n]}"), flush=True)


if __name__ == "__main__":
    main()
