"""Reference solutions of plane frames and of a building with an external frame, by PyNiteFEA.

    pip install PyNiteFEA==3.2.0 numpy scipy
    python frames.py > frames.json

Read by tests/outside/reference_frames.rs. Units kN, m, rad. PyNiteFEA is a general-purpose
finite-element library; its members bend without shear deformation, so shear rigidities are left
out here. Rigid arms, rigid ends and rigid floors are members a million times stiffer than the ones they
join (not than the stiffest of all: short arms would then drown soft members in rounding): good to
about six figures.
"""

import json

import numpy as np
from Pynite import FEModel3D

SOFT = 1e-7


def flex(ei, ea=1.0, other=None, torsion=SOFT):
    """Section properties for a material of modulus 1: area, both inertias, torsion constant."""
    return {"A": ea, "Iz": ei, "Iy": ei if other is None else other, "J": torsion}


class Model:
    def __init__(self):
        self.fe = FEModel3D()
        self.fe.add_material("unit", 1.0, 0.5, 0.0, 0.0)

    def node(self, name, x, y, z=0.0):
        if name not in self.fe.nodes:
            self.fe.add_node(name, x, y, z)
        return name

    def member(self, name, i, j, section):
        self.fe.add_section(name, section["A"], section["Iy"], section["Iz"], section["J"])
        self.fe.add_member(name, i, j, "unit", name)

    def load(self, node, direction, force):
        self.fe.add_node_load(node, direction, force)

    def solve(self):
        self.fe.analyze_linear(check_stability=False)

    def u(self, node, dof):
        return float(getattr(self.fe.nodes[node], dof)["Combo 1"])

    def ends(self, name):
        return np.asarray(self.fe.members[name].f("Combo 1")).flatten()


# ---------------------------------------------------------------------------------------------
# Plane frames: x to the right, y up.


def plane_frame(case):
    model = Model()
    xs, hs = case["ordinates_m"], case["storey_heights_m"]
    zs = np.concatenate([[0.0], np.cumsum(hs)])
    columns, beams, walls = case["columns"], case["beams"], case["walls"]
    slender = max(m["ei"] for m in columns + beams)
    stiff = 1e6 * max(m["ei"] for m in columns + beams + walls)
    arm_section = flex(1e6 * slender, stiff)

    def rigid_end(name, node, face, member, length):
        ratio = 1e6 * length / 3.0
        section = flex(ratio * member["ei"], ratio * member["ea"] if "ea" in member else stiff)
        model.member(name, node, face, section)

    def joint(level, line):
        return model.node(f"J{level}-{line}", xs[line], zs[level])

    for c in columns:
        s, line = c["storey"], c["line"]
        low, high = joint(s, line), joint(s + 1, line)
        name = f"C{s}-{line}"
        ends = []
        for node, rigid_length, sense, tag in (
            (low, c["rigid_bottom_m"], 1, "b"),
            (high, c["rigid_top_m"], -1, "t"),
        ):
            if rigid_length == 0.0:
                ends.append(node)
                continue
            at = model.fe.nodes[node]
            face = model.node(name + tag, at.X, at.Y + sense * rigid_length)
            rigid_end(f"R{name}{tag}", *((node, face) if sense > 0 else (face, node)), c, rigid_length)
            ends.append(face)
        model.member(name, *ends, flex(c["ei"], c["ea"]))
    for w in walls:
        s = w["storey"]
        feet = [model.node(f"W{level}-{w['axis_m']}", w["axis_m"], zs[level]) for level in (s, s + 1)]
        model.member(w["name"], *feet, flex(w["ei"], w["ea"]))
        for level, foot in zip((s, s + 1), feet):
            if level == 0:
                continue
            for line in range(w["first_line"], w["last_line"] + 1):
                arm = f"A{level}-{line}-{w['axis_m']}"
                if arm not in model.fe.members:
                    if abs(xs[line] - w["axis_m"]) > 1e-9:
                        model.member(arm, joint(level, line), foot, arm_section)
    covered = {
        (level, bay)
        for w in walls
        for level in (w["storey"], w["storey"] + 1)
        for bay in range(w["first_line"], w["last_line"])
    }
    # Floors do not change length: beams and floor ties carry a great axial stiffness. The tie of a
    # floor runs along the beams; case data give a beam or a wall in every bay of every floor in use.
    for b in beams:
        i, bay = b["floor"], b["bay"]
        if (i + 1, bay) in covered:
            continue
        name = f"B{i}-{bay}"
        left, right = joint(i + 1, bay), joint(i + 1, bay + 1)
        ends = []
        for node, rigid_length, sense, tag in (
            (left, b["rigid_left_m"], 1, "l"),
            (right, b["rigid_right_m"], -1, "r"),
        ):
            if rigid_length == 0.0:
                ends.append(node)
                continue
            at = model.fe.nodes[node]
            face = model.node(name + tag, at.X + sense * rigid_length, at.Y)
            rigid_end(f"R{name}{tag}", *((node, face) if sense > 0 else (face, node)), b, rigid_length)
            ends.append(face)
        model.member(name, *ends, flex(b["ei"], stiff))

    for name in model.fe.nodes:
        model.fe.def_support(name, False, False, True, True, True, False)
    under_wall = {
        line for w in walls if w["storey"] == 0 for line in range(w["first_line"], w["last_line"] + 1)
    }
    feet = [(f"J0-{line}", base) for line, base in enumerate(case["bases"]) if line not in under_wall]
    feet += [(f"W0-{w['axis_m']}", w["base"]) for w in walls if w["storey"] == 0]
    for node, base in feet:
        if node not in model.fe.nodes:
            continue
        fixed = [base["vertical"] == "fixed", base["rotation"] == "fixed"]
        model.fe.def_support(node, True, fixed[0], True, True, True, fixed[1])
        if not isinstance(base["vertical"], str):
            model.fe.def_support_spring(node, "DY", base["vertical"])
        if not isinstance(base["rotation"], str):
            model.fe.def_support_spring(node, "RZ", base["rotation"])
    for floor, force in enumerate(case["force_kn"]):
        nodes = [n for n in model.fe.nodes if n.startswith(f"J{floor + 1}-")]
        for node in nodes:
            model.load(node, "FX", force / len(nodes))
    model.solve()

    def floor_u(level):
        us = [model.u(n, "DX") for n in model.fe.nodes if n.startswith(f"J{level}-")]
        assert max(us) - min(us) < 1e-4 * max(abs(u) for u in us), (case["name"], us)
        return float(np.mean(us))

    # Local axes of a member in this plane: couples anticlockwise, axial force at the first end
    # positive in compression, transverse force at the first end to the left (column) or up (beam).
    out = dict(case)
    out["displacement_m"] = [floor_u(level) for level in range(1, len(hs) + 1)]
    for c in columns:
        f = model.ends(f"C{c['storey']}-{c['line']}")
        c["shear_kn"], c["bottom_kn_m"], c["top_kn_m"], c["compression_kn"] = (
            float(f[k]) for k in (1, 5, 11, 0)
        )
    for b in beams:
        if (b["floor"] + 1, b["bay"]) in covered:
            continue
        f = model.ends(f"B{b['floor']}-{b['bay']}")
        b["left_kn_m"], b["right_kn_m"] = float(f[5]), float(f[11])
    for w in walls:
        f = model.ends(w["name"])
        w["shear_kn"], w["bottom_kn_m"], w["top_kn_m"], w["compression_kn"] = (
            float(f[k]) for k in (1, 5, 11, 0)
        )
    return out


E_MODULUS = 24e6


def column(storey, line, b, h, bottom=0.0, top=0.0):
    ei, ea = E_MODULUS * b * h**3 / 12, E_MODULUS * b * h
    return dict(storey=storey, line=line, ei=ei, ea=ea, rigid_bottom_m=bottom, rigid_top_m=top)


def beam(floor, bay, b, h, left=0.0, right=0.0):
    return dict(
        floor=floor, bay=bay, ei=E_MODULUS * b * h**3 / 12, rigid_left_m=left, rigid_right_m=right
    )


def wall(name, storey, first, last, axis, ei, ea, base):
    return dict(
        name=name, storey=storey, first_line=first, last_line=last, axis_m=axis, ei=ei, ea=ea, base=base
    )


FIXED = dict(rotation="fixed", vertical="fixed")
PINNED = dict(rotation="free", vertical="fixed")


def spring(rotation, vertical="fixed"):
    return dict(rotation=rotation, vertical=vertical)


def plane_cases():
    yield dict(
        name="irregular heights and spans, mixed feet, rigid ends",
        ordinates_m=[0.0, 4.2, 9.9, 13.0],
        storey_heights_m=[4.5, 3.1, 3.6],
        columns=[
            column(s, j, 0.30 + 0.05 * j, 0.55 - 0.05 * s, bottom=0.0 if s == 0 else 0.25, top=0.3)
            for s in range(3)
            for j in range(4)
        ],
        beams=[
            beam(i, j, 0.25, 0.6 - 0.05 * i, left=0.2 + 0.02 * j, right=0.25) for i in range(3) for j in range(3)
        ],
        walls=[],
        bases=[FIXED, PINNED, spring(4e4), spring(2.5e4, 9e5)],
        force_kn=[60.0, 140.0, 190.0],
    )
    yield dict(
        name="set-back, a column released low down by a sill wall",
        ordinates_m=[0.0, 5.0, 10.0, 15.0],
        storey_heights_m=[3.8, 3.3, 3.3, 3.0],
        columns=[
            column(s, j, 0.4, 0.4, bottom=1.2 if (s, j) == (0, 2) else 0.0)
            for s in range(4)
            for j in range(4 if s < 2 else 2)
        ],
        beams=[beam(i, j, 0.3, 0.5) for i in range(4) for j in range(3 if i < 2 else 1)],
        walls=[],
        bases=[FIXED] * 4,
        force_kn=[80.0, 120.0, 90.0, 70.0],
    )
    t, lw = 0.2, 5.0
    panel = dict(ei=E_MODULUS * t * lw**3 / 12, ea=E_MODULUS * t * lw)
    yield dict(
        name="infill wall in one bay of a frame, stopping below the roof, on a footing that turns",
        ordinates_m=[0.0, 5.0, 10.0, 15.5],
        storey_heights_m=[3.6, 3.3, 3.3],
        columns=[
            column(s, j, 0.4, 0.45, top=0.25)
            for s in range(3)
            for j in range(4)
            if s == 2 or j not in (1, 2)
        ],
        beams=[beam(i, j, 0.3, 0.5, left=0.2, right=0.2) for i in range(3) for j in range(3)],
        walls=[wall(f"W{s}", s, 1, 2, 7.4, panel["ei"], panel["ea"], spring(1.5e6, 4e5)) for s in range(2)],
        bases=[spring(3e4)] * 4,
        force_kn=[120.0, 200.0, 260.0],
    )
    yield dict(
        name="two walls coupled by beams, one over two bays, on fixed and hinged feet",
        ordinates_m=[0.0, 3.0, 6.0, 8.5, 12.0, 16.0],
        storey_heights_m=[3.4] * 4,
        columns=[column(s, 5, 0.45, 0.45) for s in range(4)],
        beams=[beam(i, j, 0.3, 0.55) for i in range(4) for j in range(5)],
        walls=[wall(f"L{s}", s, 0, 2, 3.0, 4.0 * panel["ei"], 1.2 * panel["ea"], FIXED) for s in range(4)]
        + [wall(f"R{s}", s, 3, 4, 10.2, 0.5 * panel["ei"], 0.7 * panel["ea"], PINNED) for s in range(4)],
        bases=[FIXED] * 6,
        force_kn=[100.0, 200.0, 300.0, 400.0],
    )


# ---------------------------------------------------------------------------------------------
# A building in space with an external frame: x and z in plan, y up.


def space_building():
    """Two storeys, three frame lines along x and three along y (z here), unequal columns, and an
    external frame along x outside the plan, tied by strips that are built into the floor and meet
    the external frame without moment. Columns do not shorten."""
    xs, ys = [0.0, 5.0, 9.0], [0.0, 4.0, 10.0]
    heights = [3.7, 3.2]
    outside, gap_nodes = -2.0, [0.0, 5.0, 9.0]
    zs = np.concatenate([[0.0], np.cumsum(heights)])
    e = 25e6
    inertia = lambda side: e * side**4 / 12
    rigid = 1e12
    side = lambda i, j, s: 0.35 + 0.05 * ((i + 2 * j) % 3) - 0.05 * s
    beam_ei = {"x": e * 0.3 * 0.5**3 / 12, "y": e * 0.3 * 0.6**3 / 12}
    frame_ei, frame_beam_ei = inertia(0.6), e * 0.4 * 0.7**3 / 12
    strip_ei = 3.0e5

    # Which inertia bends a vertical member along global x? Ask the library.
    probe = Model()
    probe.node("a", 0, 0), probe.node("b", 0, 1)
    probe.member("m", "a", "b", flex(1.0, 1e6, other=1000.0))
    probe.fe.def_support("a", *[True] * 6)
    probe.load("b", "FX", 1.0)
    probe.solve()
    along_x_is_iz = abs(probe.u("b", "DX") - 1.0 / 3.0) < 1e-6

    model = Model()
    for s in range(3):
        for i, x in enumerate(xs):
            for j, y in enumerate(ys):
                # Right-handed with y up: plan ordinate y runs along −z.
                model.node(f"N{s}-{i}-{j}", x, zs[s], -y)
        for k, x in enumerate(gap_nodes):
            model.node(f"E{s}-{k}", x, zs[s], -outside)
    for s in range(2):
        for i in range(3):
            for j in range(3):
                ei = inertia(side(i, j, s))
                model.member(f"C{s}-{i}-{j}", f"N{s}-{i}-{j}", f"N{s + 1}-{i}-{j}", flex(ei, rigid))
        for k in range(3):
            across = SOFT
            section = flex(frame_ei, rigid, other=across) if along_x_is_iz else flex(across, rigid, other=frame_ei)
            model.member(f"EC{s}-{k}", f"E{s}-{k}", f"E{s + 1}-{k}", section)
        level = s + 1
        # A horizontal member bends vertically through Iz, in plan through Iy.
        for j in range(3):
            for i in range(2):
                name, ends = f"BX{level}-{i}-{j}", (f"N{level}-{i}-{j}", f"N{level}-{i + 1}-{j}")
                model.member(name, *ends, flex(beam_ei["x"], rigid, other=rigid))
        for i in range(3):
            for j in range(2):
                name, ends = f"BY{level}-{i}-{j}", (f"N{level}-{i}-{j}", f"N{level}-{i}-{j + 1}")
                model.member(name, *ends, flex(beam_ei["y"], rigid, other=rigid))
        for k in range(2):
            model.member(f"EB{level}-{k}", f"E{level}-{k}", f"E{level}-{k + 1}", flex(frame_beam_ei, rigid, other=SOFT))
        for k in range(3):
            model.member(f"S{level}-{k}", f"E{level}-{k}", f"N{level}-{k}-0", flex(SOFT, rigid, other=strip_ei))
    for name in model.fe.nodes:
        if name[1] == "0":
            model.fe.def_support(name, *[True] * 6)
    # Loads on the middle joint of each floor and on the external frame's own floors.
    loads_x, loads_y, loads_frame = [90.0, 160.0], [40.0, -25.0], [12.0, 9.0]
    for s in range(2):
        model.load(f"N{s + 1}-1-1", "FX", loads_x[s])
        model.load(f"N{s + 1}-1-1", "FZ", -loads_y[s])
        model.load(f"E{s + 1}-1", "FX", loads_frame[s])
    model.solve()

    def shear_x(s, names):
        total = 0.0
        for name in names:
            glob = np.asarray(model.fe.members[name].F("Combo 1")).flatten()
            total += glob[6]
        return float(total)

    def shear_y(s, names):
        return float(sum(-np.asarray(model.fe.members[n].F("Combo 1")).flatten()[8] for n in names))

    floors = []
    for s in (1, 2):
        theta = (model.u(f"N{s}-1-0", "DX") - model.u(f"N{s}-1-2", "DX")) / (ys[2] - ys[0])
        assert abs(theta - model.u(f"N{s}-2-2", "RY")) < 1e-4 * abs(theta)
        floors.append(
            dict(x_m=model.u(f"N{s}-1-1", "DX"), y_m=-model.u(f"N{s}-1-1", "DZ"), rotation_rad=theta)
        )
    strip_force = [
        float(sum(np.asarray(model.fe.members[f"S{s}-{k}"].F("Combo 1")).flatten()[6] for k in range(3)))
        for s in (1, 2)
    ]
    return dict(
        name="two storeys, unequal columns, external frame on one side",
        x_m=xs,
        y_m=ys,
        storey_heights_m=heights,
        column_ei_kn_m2=[[[inertia(side(i, j, s)) for j in range(3)] for i in range(3)] for s in range(2)],
        beam_ei_along_x_kn_m2=beam_ei["x"],
        beam_ei_along_y_kn_m2=beam_ei["y"],
        external_y_m=outside,
        external_x_m=gap_nodes,
        external_column_ei_kn_m2=frame_ei,
        external_beam_ei_kn_m2=frame_beam_ei,
        # Three strips, each built into the floor and free to turn at the frame: 3·EI/g³.
        link_kn_per_m=3 * 3 * strip_ei / abs(outside) ** 3,
        load_point_m=[xs[1], ys[1]],
        force_x_kn=loads_x,
        force_y_kn=loads_y,
        force_external_kn=loads_frame,
        floors=floors,
        external_m=[model.u(f"E{s}-1", "DX") for s in (1, 2)],
        shear_along_x_kn=[[shear_x(s, [f"C{s}-{i}-{j}" for i in range(3)]) for s in range(2)] for j in range(3)],
        shear_along_y_kn=[[shear_y(s, [f"C{s}-{i}-{j}" for j in range(3)]) for s in range(2)] for i in range(3)],
        shear_external_kn=[shear_x(s, [f"EC{s}-{k}" for k in range(3)]) for s in range(2)],
        link_kn=strip_force,
    )


# ---------------------------------------------------------------------------------------------
# A cantilever wall in plane stress.


def plane_stress_wall():
    """Cantilever wall 3 × 12 m meshed with quadrilaterals, pushed at four floors in turn."""
    e, nu, t, length, floors, height = 25e6, 0.2, 0.25, 3.0, 4, 3.0
    across, per_storey = 10, 10
    model = FEModel3D()
    model.add_material("concrete", e, e / (2 * (1 + nu)), nu, 0.0)
    dx, dy = length / across, height / per_storey
    rows = per_storey * floors
    for r in range(rows + 1):
        for c in range(across + 1):
            model.add_node(f"N{r}-{c}", c * dx, r * dy, 0.0)
            model.def_support(f"N{r}-{c}", r == 0, r == 0, True, True, True, True)
    for r in range(rows):
        for c in range(across):
            corners = (f"N{r}-{c}", f"N{r}-{c + 1}", f"N{r + 1}-{c + 1}", f"N{r + 1}-{c}")
            model.add_quad(f"Q{r}-{c}", *corners, t, "concrete")
    for floor in range(floors):
        case = f"F{floor}"
        for c in range(across + 1):
            model.add_node_load(f"N{(floor + 1) * per_storey}-{c}", "FX", 1.0 / (across + 1), case=case)
        model.add_load_combo(case, {case: 1.0})
    model.analyze_linear(check_stability=False)
    flexibility = []
    for floor in range(floors):
        column = []
        for at in range(floors):
            us = [model.nodes[f"N{(at + 1) * per_storey}-{c}"].DX[f"F{floor}"] for c in range(across + 1)]
            column.append(float(np.mean(us)))
        flexibility.append(column)
    return dict(
        name="cantilever wall in plane stress",
        modulus_kn_m2=e,
        poisson=nu,
        thickness_m=t,
        length_m=length,
        storey_height_m=height,
        flexibility_m_per_kn=flexibility,
    )


if __name__ == "__main__":
    result = dict(
        made_with="PyNiteFEA 3.2.0, frames.py",
        plane_frames=[plane_frame(case) for case in plane_cases()],
        building=space_building(),
        wall=plane_stress_wall(),
    )
    print(json.dumps(result, indent=1))
