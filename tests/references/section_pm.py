"""Reference axial force - moment points from concreteproperties, for tests/outside/sections.rs.

Run with concreteproperties 0.7.0 installed:  python section_pm.py > section_pm.json
Units mm, MPa, kN, kNm. Bars are circles of the given area, concrete under them removed by the library.
"""

import json
import math

from concreteproperties import Concrete, ConcreteSection, SteelBar
from concreteproperties import stress_strain_profile as ssp
from sectionproperties.pre.geometry import Geometry
from concreteproperties.pre import add_bar
from shapely import Polygon

# Straight pieces the library follows the parabola in; the time it takes grows with them.
PIECES = 200

D13, D16, D19, D22, D25, D29 = 126.7, 198.6, 286.5, 387.1, 506.7, 642.4


def block(fc, beta1=0.85):
    return {"kind": "block", "strength_mpa": fc, "factor": 0.85, "depth_ratio": beta1, "ultimate_strain": 0.003}


def parabola(fcd):
    return {"kind": "parabola", "strength_mpa": fcd, "peak_strain": 0.002, "ultimate_strain": 0.0035, "exponent": 2.0}


def rect(x0, x1, y0, y1, law):
    return {"x": [x0, x1], "y": [y0, y1], "law": law}


def ring(cy, hx, hy, per_face, area, fy):
    """Bars round a rectangle of half sizes hx, hy, `per_face` on each face, corners shared."""
    steps = [2.0 * i / (per_face - 1) - 1.0 for i in range(per_face)]
    out = []
    for s in steps:
        out.append([s * hx, cy - hy, area, fy])
        out.append([s * hx, cy + hy, area, fy])
    for s in steps[1:-1]:
        out.append([-hx, cy + s * hy, area, fy])
        out.append([hx, cy + s * hy, area, fy])
    return out


def wing(side, fy):
    rows = [(740, D19), (640, D19), (520, D13), (400, D13), (280, D13)]
    return [[x, side * y, a, fy] for y, a in rows for x in (-60.0, 60.0)]


def cases(law, old, new, stronger, fy_old, fy):
    """`law(f)` makes a law; old/new/stronger are strengths, fy_old/fy yield strengths."""
    column = rect(-200, 200, -200, 200, law(old))
    jacket = [
        rect(-350, 350, 200, 350, law(new)),
        rect(-350, 350, -350, -200, law(new)),
        rect(-350, -200, -200, 200, law(new)),
        rect(200, 350, -200, 200, law(new)),
    ]
    up = rect(-100, 100, 200, 800, law(new))
    down = rect(-100, 100, -800, -200, law(new))
    core_bars = ring(0.0, 140.0, 140.0, 3, D19, fy_old)
    web = [[x, y, D13, fy] for y in range(-2000, 2001, 200) for x in (-60.0, 60.0)]
    return {
        "square": ([rect(-200, 200, -200, 200, law(new))], ring(0.0, 140.0, 140.0, 3, D25, fy)),
        "two rows": (
            [rect(-150, 150, -250, 250, law(old))],
            [[x, y, D19, fy_old] for x in (-90.0, 0.0, 90.0) for y in (-190.0, 190.0)],
        ),
        "strong square": ([rect(-300, 300, -300, 300, law(stronger))], ring(0.0, 240.0, 240.0, 4, D29, fy)),
        "jacketed": ([column] + jacket, core_bars + ring(0.0, 290.0, 290.0, 4, D25, fy)),
        "two wings": ([column, up, down], core_bars + wing(1, fy) + wing(-1, fy)),
        "one wing": ([column, up], core_bars + wing(1, fy)),
        "barbell": (
            [
                rect(-200, 200, 2100, 2500, law(old)),
                rect(-200, 200, -2500, -2100, law(old)),
                rect(-100, 100, -2100, 2100, law(0.5 * (old + new))),
            ],
            ring(2300.0, 140.0, 140.0, 3, D22, fy_old) + ring(-2300.0, 140.0, 140.0, 3, D22, fy_old) + web,
        ),
    }


def profile(law):
    if law["kind"] == "block":
        return ssp.RectangularStressBlock(
            compressive_strength=law["strength_mpa"],
            alpha=law["factor"],
            gamma=law["depth_ratio"],
            ultimate_strain=law["ultimate_strain"],
        )
    return ssp.EurocodeParabolicUltimate(
        compressive_strength=law["strength_mpa"],
        compressive_strain=law["peak_strain"],
        ultimate_strain=law["ultimate_strain"],
        n=law["exponent"],
        n_points=PIECES,
    )


def concrete(law):
    return Concrete(
        name=json.dumps(law),
        density=2.4e-6,
        stress_strain_profile=ssp.ConcreteLinearNoTension(
            elastic_modulus=25e3,
            ultimate_strain=law["ultimate_strain"],
            compressive_strength=law["strength_mpa"],
        ),
        ultimate_stress_strain_profile=profile(law),
        flexural_tensile_strength=1.0,
        colour="lightgrey",
    )


def steel(fy):
    return SteelBar(
        name=f"steel {fy}",
        density=7.85e-6,
        stress_strain_profile=ssp.SteelElasticPlastic(yield_strength=fy, elastic_modulus=200e3, fracture_strain=1.0),
        colour="grey",
    )


def section_of(rects, bars):
    parts = []
    for r in rects:
        (x0, x1), (y0, y1) = r["x"], r["y"]
        parts.append(Geometry(Polygon([(x0, y0), (x1, y0), (x1, y1), (x0, y1)]), material=concrete(r["law"])))
    geometry = parts[0]
    for part in parts[1:]:
        geometry = geometry + part
    for x, y, area, fy in bars:
        geometry = add_bar(geometry, area=area, material=steel(fy), x=x, y=y, n=32)
    return ConcreteSection(geometry)


def solve(rects, bars):
    section = section_of(rects, bars)
    area = sum((r["x"][1] - r["x"][0]) * (r["y"][1] - r["y"][0]) for r in rects)
    about = sum((r["x"][1] - r["x"][0]) * (r["y"][1] ** 2 - r["y"][0] ** 2) / 2.0 for r in rects) / area
    section.moment_centroid = (0.0, about)
    squash = sum(
        (r["x"][1] - r["x"][0])
        * (r["y"][1] - r["y"][0])
        * (r["law"]["factor"] if r["law"]["kind"] == "block" else 1.0)
        * r["law"]["strength_mpa"]
        for r in rects
    )
    points = []
    for sense, theta in (("plus", 0.0), ("minus", math.pi)):
        for ratio in (0.0, 0.06, 0.12, 0.25, 0.37, 0.5):
            axial = round(ratio * squash / 1e3)
            result = section.ultimate_bending_capacity(theta=theta, n=axial * 1e3)
            points.append(
                {
                    "sense": sense,
                    "axial_kn": axial,
                    "neutral_axis_mm": round(result.d_n, 4),
                    "moment_knm": round(abs(result.m_x) / 1e6, 5),
                }
            )
    return about, points


def main():
    sets = {
        "block": cases(lambda f: block(f, 0.85 if f <= 28 else 0.85 - 0.05 * (f - 28.0) / 7.0), 15, 28, 40, 280, 420),
        "parabola": cases(lambda f: parabola(f), 0.85 * 16 / 1.5, 0.85 * 30 / 1.5, 0.85 * 40 / 1.5, 280 / 1.15, 500 / 1.15),
    }
    out = {"library": "concreteproperties 0.7.0", "cases": []}
    for law, entries in sets.items():
        for name, (rects, bars) in entries.items():
            about, points = solve(rects, bars)
            out["cases"].append(
                {"name": f"{name}, {law}", "rects": rects, "bars": bars, "about_mm": about, "points": points}
            )
    lines = ",\n".join(json.dumps(case) for case in out["cases"])
    print('{"library": "%s", "cases": [\n%s\n]}' % (out["library"], lines))


if __name__ == "__main__":
    main()
