"""Housing: a channel at an angle across the face of a part, which takes the end of another that leans: a stair tread, a sloping shelf."""

from __future__ import annotations

from drawleaf.model.joint_family import Called, JointFamily

HOUSING = JointFamily(
    key="housing",
    meaning="The British word for `dado`, for square and for sloping parts.",
    noun="housing",
    plural="housings",
    sits="sits in a housing in",
    american="angled dado",
    let_in=True,
    leans=True,
    called=(
        Called(
            ("sloping_housing", "angled_dado", "slanted_dado", "stair_housing"),
            "dado: {a}, in: {b}, depth: 3/8, with: [glue]",
        ),
    ),
)
