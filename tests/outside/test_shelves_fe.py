"""Sags against a general finite-element library: beams against closed forms, edged shelves as solids against the composite section.

Poisson's ratio is zero in the solids, as in beam theory; material and sizes are those of ordinary shelves.
"""

from __future__ import annotations

import numpy as np
import pytest
import skfem as fe
from skfem.helpers import dd, ddot, sym_grad

from drawleaf.checks import beams
from drawleaf.checks.beams import Strip

LOAD = 1e-3  # N/mm2
BOARD, OAK = 8000.0, 12500.0


def beam_sag(load: float, rigidity: float, span: float, *, point: bool = False, cantilever: bool = False) -> float:
    """Largest deflection of a slender beam of Hermite elements."""
    count = 16
    mesh = fe.MeshLine(np.linspace(0, span, count + 1))
    basis = fe.Basis(mesh, fe.ElementLineHermite())

    @fe.BilinearForm
    def bending(u, v, _):
        return rigidity * ddot(dd(u), dd(v))

    @fe.LinearForm
    def spread(v, _):
        return load / span * v

    force = spread.assemble(basis)
    if point:
        force = np.zeros_like(force)
        force[basis.nodal_dofs[0, count if cantilever else count // 2]] = load
    held = [basis.nodal_dofs[0, 0], basis.nodal_dofs[1 if cantilever else 0, 0 if cantilever else count]]
    moved = fe.solve(*fe.condense(bending.assemble(basis), force, D=np.array(held)))
    return float(np.abs(moved[basis.nodal_dofs[0]]).max())


@pytest.mark.parametrize(
    ("constant", "point", "cantilever"),
    [
        (beams.UNIFORM_SIMPLE, False, False),
        (beams.POINT_SIMPLE, True, False),
        (beams.UNIFORM_CANTILEVER, False, True),
        (beams.POINT_CANTILEVER, True, True),
    ],
)
@pytest.mark.parametrize("span", [400.0, 900.0])
def test_beam_constants(constant: float, point: bool, cantilever: bool, span: float) -> None:
    rigidity = beams.bending_stiffness(Strip(300, 18, 0, OAK))
    ours = beams.sag(constant, 100.0, span, rigidity)
    assert ours == pytest.approx(beam_sag(100.0, rigidity, span, point=point, cantilever=cantilever), rel=1e-6)


def shelf_sag(span: float, deep: float, thick: float, edging: tuple[float, float] | None, *, both: bool = False):
    """Sag at midspan along the front edge and the back edge of a solid shelf on line supports, loaded on top.

    ``edging`` is its thickness and height, its top flush with the shelf's, along the front or along both edges. The left half alone is
    worked out: shelf, supports and load are alike left and right of midspan, where nothing moves along the span.
    """
    wide, high = edging or (0.0, thick)
    ys = np.linspace(0, deep, 7)
    if edging:
        ys = np.concatenate([[-wide], ys, [deep + wide] if both else []])
    zs = np.concatenate([np.linspace(thick - high, 0, 3)[:-1] if high > thick else [], np.linspace(0, thick, 3)])
    mesh = fe.MeshHex.init_tensor(np.linspace(0, span / 2, 5), ys, zs)
    centers = mesh.p[:, mesh.t].mean(axis=1)
    strip = (centers[1] < 0) | (centers[1] > deep)
    kept = (centers[2] > 0) | strip
    mesh, strip = mesh.restrict(np.nonzero(kept)[0]), strip[kept]
    element = fe.ElementVector(fe.ElementHex2())
    basis = fe.Basis(mesh, element, intorder=4)
    stiffness = fe.Basis(mesh, fe.ElementHex0(), intorder=4).interpolate(np.where(strip, OAK, BOARD))

    @fe.BilinearForm
    def elastic(u, v, w):
        return w.stiffness * ddot(sym_grad(u), sym_grad(v))

    @fe.LinearForm
    def weight(v, _):
        return -LOAD * v[2]

    def on_top(x):
        return (abs(x[2] - thick) < 1e-6) & (x[1] > -1e-6) & (x[1] < deep + 1e-6)

    force = weight.assemble(fe.FacetBasis(mesh, element, facets=mesh.facets_satisfying(on_top), intorder=4))
    at = basis.doflocs
    axes = [
        np.unique(
            np.concatenate(
                [group[axis] for group in (basis.nodal_dofs, basis.edge_dofs, basis.facet_dofs, basis.interior_dofs)]
            )
        )
        for axis in range(3)
    ]
    line = (at[1] > -1e-6) & (at[1] < deep + 1e-6) & (abs(at[2]) < 1e-6)
    end = np.nonzero(line & (abs(at[0]) < 1e-6))[0]
    middle = np.nonzero(abs(at[0] - span / 2) < 1e-6)[0]
    held = np.concatenate(
        [np.intersect1d(end, axes[2]), np.intersect1d(middle, axes[0]), np.intersect1d(end, axes[1])[:1]]
    )
    moved = fe.solve(*fe.condense(elastic.assemble(basis, stiffness=stiffness), force, D=np.unique(held)))
    across = np.intersect1d(middle[abs(at[2, middle] - thick) < 1e-6], axes[2])
    front = across[np.argmin(abs(at[1][across]))]
    back = across[np.argmin(abs(at[1][across] - deep))]
    return -float(moved[front]), -float(moved[back])


def formula(span: float, deep: float, stiffness: float) -> float:
    return beams.sag(beams.UNIFORM_SIMPLE, LOAD * deep * span, span, stiffness)


def test_a_bare_shelf() -> None:
    front, back = shelf_sag(800, 300, 18, None)
    assert front == pytest.approx(back, rel=1e-6)
    assert front == pytest.approx(formula(800, 300, beams.bending_stiffness(Strip(300, 18, 0, BOARD))), rel=0.01)


@pytest.mark.parametrize("high", [18.0, 40.0])
def test_edged_on_both_sides_is_one_section(high: float) -> None:
    front, back = shelf_sag(800, 300, 18, (19, high), both=True)
    strip = Strip(19, high, 18 - high, OAK)
    ours = formula(800, 300, beams.bending_stiffness(Strip(300, 18, 0, BOARD), strip, strip))
    assert max(front, back) == pytest.approx(ours, rel=0.07)


@pytest.mark.parametrize(
    ("span", "deep", "wide", "high"),
    [
        (800, 300, 19, 18),
        (800, 300, 19, 40),
        (800, 200, 19, 40),
        (800, 300, 38, 40),
        (1200, 300, 19, 40),
        (600, 400, 19, 40),
    ],
)
def test_edged_in_front_alone(span: float, deep: float, wide: float, high: float) -> None:
    """The front follows the composite section; the far edge is never over 15% worse than the geometric mean, nor as bad as bare."""
    front, back = shelf_sag(span, deep, 18, (wide, high))
    board = Strip(deep, 18, 0, BOARD)
    bare, composite = beams.bending_stiffness(board), beams.bending_stiffness(board, Strip(wide, high, 18 - high, OAK))
    assert front == pytest.approx(formula(span, deep, composite), rel=0.15)
    assert back <= 1.16 * formula(span, deep, beams.edged_on_one_side(composite, bare))
    assert front < back < formula(span, deep, bare)
