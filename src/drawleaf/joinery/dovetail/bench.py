"""How the bench cuts dovetails: tails first, and the sockets that are marked from them."""

from __future__ import annotations

from fractions import Fraction

from drawleaf.joinery.bench import BenchWork, Cut, Note, first_outline, reach_within
from drawleaf.model.joint_family import CutKind
from drawleaf.model.place import Axis
from drawleaf.model.plan import Feature, Joint, Part, Plan
from drawleaf.model.settings import SocketSettings, TailSettings
from drawleaf.model.shapes import OutlineCut
from drawleaf.units import Length

HALF_BLIND = "sockets-half-blind"


def socket_of(receiver: Part, joint: Joint) -> OutlineCut | None:
    """The first socket of a joint in the part that has them; None where the joint has none."""
    return first_outline(receiver, joint, CutKind.SOCKET)


def dovetail_slope(plan: Plan, joint: Joint) -> Fraction:
    """How much the sides of a joint's tails lean over their length; 0 where it has none."""
    socket = socket_of(plan.part(joint.receiver), joint)
    return Fraction(0) if socket is None else slope_of(socket, joint.face.axis)


def tail_length(plan: Plan, joint: Joint) -> Length:
    """How far the tails of a dovetailed joint reach beyond their shoulder line."""
    receiver = plan.part(joint.receiver)
    socket = socket_of(receiver, joint)
    assert socket is not None
    return reach_within(receiver, socket, joint.face.axis)


def slope_line(plan: Plan, joint: Joint) -> tuple[Note, ...]:
    """The line under a detail that says how the tails slope."""
    slope = dovetail_slope(plan, joint)
    return ((f"The sides of the tails slope {slope.numerator} in {slope.denominator}.",),) if slope else ()


def slope_of(socket: OutlineCut, axis: Axis) -> Fraction:
    """How much the side of a socket leans over its length."""
    points = socket.outline.points(axis)
    best = Fraction(0)
    for (p0, w0), (p1, w1) in zip(points, (*points[1:], points[0]), strict=True):
        if p0 != p1 and w0 != w1:
            best = max(best, abs((w1 - w0).ratio(p1 - p0)))
    return best


def _told(plan: Plan, cut: Cut) -> tuple[Length, Fraction]:
    joint = plan.joint(cut.joint)
    return tail_length(plan, joint), dovetail_slope(plan, joint)


def _tails(plan: Plan, part: Part, cuts: tuple[Cut, ...]) -> TailSettings:
    return TailSettings(*_told(plan, cuts[0]))


def _sockets(plan: Plan, part: Part, cuts: tuple[Cut, ...]) -> SocketSettings:
    (cut,) = cuts
    assert isinstance(cut, OutlineCut)
    return SocketSettings(*_told(plan, cut), _half_blind(part, cut))


def _half_blind(part: Part, cut: OutlineCut) -> bool:
    """Whether a socket stops before the far face of its part."""
    across = part.thickness
    if across is cut.outline.axis:
        return False
    span, body = cut.outline.span(across), part.body.span(across)
    return span.low > body.low or span.high < body.high


def _agrees(told: TailSettings, part: Part, cut: Feature) -> bool:
    """Both are as deep as the tails are long, and both taper by what the slope makes of that depth."""
    if not isinstance(cut, OutlineCut):
        return False
    deep = {axis: reach_within(part, cut, axis) for axis in cut.outline.axis.others()}
    return any(length == told.depth and _leans(cut, axis, told.slope) for axis, length in deep.items())


def _leans(cut: OutlineCut, axis: Axis, slope: Fraction) -> bool:
    """Whether a slanting side of the outline leans so much over its length along an axis; true of an outline square to the part's edge."""
    corners = cut.outline.points(axis)
    pairs = zip(corners, (*corners[1:], corners[0]), strict=True)
    leans = {abs((end[1] - start[1]).ratio(end[0] - start[0])) for start, end in pairs if end[0] != start[0]} - {
        Fraction(0)
    }
    return leans <= {slope} and bool(leans)


def _way(told: SocketSettings) -> str:
    return HALF_BLIND if told.blind else SOCKETS.operation


TAILS = BenchWork(
    CutKind.TAIL, "tails", ("Cut the tail on the {}", "Cut the tails on the {}"), TailSettings, _tails, _agrees
)
SOCKETS = BenchWork(
    CutKind.SOCKET,
    "sockets",
    ("Cut the socket in the {}", "Cut the sockets in the {}"),
    SocketSettings,
    _sockets,
    _agrees,
    way=_way,
    further_ways=(HALF_BLIND,),
)
