"""The renderer: Mitsuba 3, a path tracer, with Open Image Denoise where it is at hand. The only module that imports either."""

from __future__ import annotations

import importlib.util
import subprocess
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from drawleaf.looks.atlas import Group, baked
from drawleaf.looks.noise import Floats
from drawleaf.looks.scene import Body, Light, Plain, Scene

PLAIN, FAST = "scalar_rgb", "llvm_ad_rgb"
"""Two builds of the renderer: one that runs everywhere, and one that compiles each scene with LLVM and is about twice as fast."""
_PASS = {PLAIN: 4, FAST: 8}
"""Samples to a pixel in one pass: between passes the progress is told, and memory stays small."""
_TRIAL = """
import mitsuba as mi, numpy as np
mi.set_variant("llvm_ad_rgb")
scene = mi.load_dict({"type": "scene", "integrator": {"type": "path", "max_depth": 4, "rr_depth": 2},
 "sensor": {"type": "perspective", "to_world": mi.ScalarTransform4f().look_at([0, -4, 1], [0, 0, 0], [0, 0, 1]),
 "film": {"type": "hdrfilm", "width": 16, "height": 12}},
 "light": {"type": "constant"}, "ball": {"type": "sphere", "bsdf": {"type": "twosided", "bsdf": {"type": "roughplastic",
 "diffuse_reflectance": {"type": "bitmap", "bitmap": mi.Bitmap(np.ones((4, 4, 3), np.float32)), "raw": True}}}},
 "other": {"type": "cube", "bsdf": {"type": "roughconductor"}}})
assert np.isfinite(np.array(mi.render(scene, spp=2))).all()
"""

_DULL = 0.65
"""What is as rough as this, such as a wall, does not shine at all."""

Told = Callable[[str, float], None]
"""Hears what is being done and the share of it that is done."""


@dataclass(frozen=True, slots=True)
class Settings:
    """How a picture is made: samples to a pixel, whether the fast build is tried, the seed."""

    samples: int
    fast: bool
    seed: int = 0


@dataclass(frozen=True, eq=False, slots=True)
class Rendered:
    """A picture (H, W, 3) in linear RGB, and how it came about: the build of the renderer and whether it was denoised."""

    light: Floats
    variant: str
    denoised: bool


def installed() -> bool:
    """Whether the renderer is there."""
    return importlib.util.find_spec("mitsuba") is not None


def version() -> str:
    """The renderer's version."""
    from importlib.metadata import version as of

    return of("mitsuba")


def fast_works() -> bool:
    """Whether the fast build runs on this computer: tried in a process of its own, for with some versions of LLVM it dies at once."""
    try:
        done = subprocess.run([sys.executable, "-c", _TRIAL], capture_output=True, timeout=90)
    except (OSError, subprocess.TimeoutExpired):
        return False
    return done.returncode == 0


def render(scene: Scene, groups: Sequence[Group], settings: Settings, told: Told) -> Rendered:
    """The picture. Ask ``installed`` first."""
    variant = FAST if settings.fast and fast_works() else PLAIN
    import mitsuba as mi  # pyright: ignore[reportMissingImports] - an extra

    mi.set_variant(PLAIN)
    told("looking what is seen", 0.0)
    seen = _seen(mi, scene, groups)
    pictures = []
    for number, (group, charts) in enumerate(zip(groups, seen, strict=True)):
        if group.charts:
            picture, spots = baked(group, charts, lambda share: told("working out the wood", share))
            pictures.append((number, group, picture.astype(np.float16), spots))
    mi.set_variant(variant)
    described = _described(mi, scene, settings.seed)
    for number, group, picture, spots in pictures:
        assert isinstance(group.surface, float)
        described[f"wood{number}"] = _mesh(mi, group.triangles, group.normals, spots, _wood(mi, picture, group.surface))
    for number, group in enumerate(groups):
        if isinstance(group.surface, Plain):
            described[f"plain{number}"] = _mesh(mi, group.triangles, group.normals, None, _plain(group.surface))
    for number, body in enumerate(scene.surroundings):
        described[f"round{number}"] = _body(mi, body)
    described["integrator"] = {
        "type": "aov",
        "aovs": "albedo:albedo,normal:sh_normal",
        "image": {"type": "path", "max_depth": 7, "rr_depth": 4},
    }
    return _traced(mi, mi.load_dict(described), settings, variant, told)


def _traced(mi: Any, scene: Any, settings: Settings, variant: str, told: Told) -> Rendered:
    """Pass after pass, then the noise taken out."""
    total: Floats | None = None
    done = 0
    while done < settings.samples:
        samples = min(_PASS[variant], settings.samples - done)
        told("tracing light", done / settings.samples)
        layers = np.array(mi.render(scene, spp=samples, seed=settings.seed + done), dtype=np.float32)
        # A pixel that light never reaches by any honest way is not a number now and then.
        layers = np.nan_to_num(layers, nan=0.0, posinf=0.0, neginf=0.0) * np.float32(samples)
        total = layers if total is None else total + layers
        done += samples
    assert total is not None
    layers = total / np.float32(done)
    told("tracing light", 1.0)
    color, albedo, normal = layers[..., :3], layers[..., -6:-3], layers[..., -3:]
    if importlib.util.find_spec("mitsuba_oidn") is None:
        return Rendered(color, variant, False)
    try:
        import mitsuba_oidn as oidn  # pyright: ignore[reportMissingImports] - an extra

        told("taking out the noise", 0.0)
        guides = [np.ascontiguousarray(layer) for layer in (color, np.clip(albedo, 0.0, 1.0), normal)]
        # What is seen directly is clean after a few samples, and told so, grain stays sharp; but edges of bodies come out ragged then.
        sharp = np.array(oidn.denoise(*guides, hdr=True, clean_aux=True), dtype=np.float32)
        smooth = np.array(oidn.denoise(*guides, hdr=True), dtype=np.float32)
    except (ImportError, OSError, RuntimeError):
        # Made for few kinds of computer: without it the picture is grainier.
        return Rendered(color, variant, False)
    share = _edges(normal, albedo)[..., None]
    return Rendered(sharp + (smooth - sharp) * share, variant, True)


def _edges(normal: Floats, albedo: Floats) -> Floats:
    """(H, W) 1 at and beside the edges of bodies, where the direction or the colour of what is seen jumps, else 0; softened between."""
    jump = np.zeros(normal.shape[:2], np.float32)
    for axis in (0, 1):
        turned = np.abs(np.diff(normal, axis=axis)).sum(axis=2) + 1.5 * np.abs(np.diff(albedo, axis=axis)).mean(axis=2)
        found = (turned > 0.22).astype(np.float32)
        before, after = [(0, 0), (0, 0)], [(0, 0), (0, 0)]
        before[axis], after[axis] = (1, 0), (0, 1)
        jump = np.maximum(jump, np.maximum(np.pad(found, before), np.pad(found, after)))
    padded = np.pad(jump, 1, mode="edge")
    high, wide = jump.shape
    near = [padded[y : y + high, x : x + wide] for y in range(3) for x in range(3)]
    return np.maximum(jump, np.mean(near, axis=0) * 1.8).clip(0.0, 1.0)


def _seen(mi: Any, scene: Scene, groups: Sequence[Group]) -> list[NDArray[np.int64]]:
    """The charts of each group that the camera sees: the number of the chart stands where else a place in its picture would."""
    described = _described(mi, scene, 0)
    described.pop("fill")
    described["light"] = {"type": "constant"}
    described["integrator"] = {"type": "aov", "aovs": "place:uv"}
    for number, group in enumerate(groups):
        spots = np.zeros((len(group.triangles), 3, 2))
        if group.chart_of is not None:
            spots[..., 0], spots[..., 1] = group.chart_of[:, None], number + 1
        described[f"group{number}"] = _mesh(mi, group.triangles, group.normals, spots, {"type": "diffuse"})
    traced = mi.load_dict(described)
    found: list[set[int]] = [set() for _ in groups]
    for seed in range(2):
        places = np.array(mi.render(traced, spp=1, seed=seed))[..., -2:].reshape(-1, 2)
        pairs = np.unique(np.round(places).astype(np.int64), axis=0)
        for chart, group in pairs.tolist():
            if 0 < group <= len(groups):
                found[group - 1].add(chart)
    return [np.array(sorted(one), dtype=np.int64) for one in found]


def _described(mi: Any, scene: Scene, seed: int) -> dict[str, Any]:
    """Camera, film and lights."""
    camera, light = scene.camera, scene.light
    eye = np.array(camera.eye)
    return {
        "type": "scene",
        "sensor": {
            "type": "perspective",
            "fov": camera.field,
            "fov_axis": "x",
            "near_clip": 20.0,
            "far_clip": 60000.0,
            "principal_point_offset_x": camera.shift[0],
            "principal_point_offset_y": -camera.shift[1],
            "to_world": mi.ScalarTransform4f().look_at(
                origin=list(camera.eye), target=(eye + np.array(camera.ahead)).tolist(), up=[0.0, 0.0, 1.0]
            ),
            "film": {
                "type": "hdrfilm",
                "width": camera.size[0],
                "height": camera.size[1],
                "pixel_format": "rgb",
                "rfilter": {"type": "box"},
            },
            "sampler": {"type": "independent", "seed": seed},
        },
        "fill": {"type": "constant", "radiance": _rgb(scene.fill)},
        "key": _key(mi, light),
    }


def _key(mi: Any, light: Light) -> dict[str, Any]:
    place = mi.ScalarTransform4f().look_at(origin=list(light.at), target=list(light.toward), up=[0.0, 0.0, 1.0])
    return {
        "type": "rectangle",
        "to_world": place @ mi.ScalarTransform4f().scale([light.wide / 2.0, light.wide / 2.0, 1.0]),
        "emitter": {"type": "area", "radiance": _rgb(light.radiance)},
    }


def _rgb(color: tuple[float, float, float]) -> dict[str, Any]:
    return {"type": "rgb", "value": list(color)}


def _wood(mi: Any, picture: NDArray[np.float16], roughness: float) -> dict[str, Any]:
    texture = {
        "type": "bitmap",
        "bitmap": mi.Bitmap(np.ascontiguousarray(picture)),
        "raw": True,
        "filter_type": "bilinear",
        "wrap_mode": "clamp",
    }
    return _coat(texture, roughness)


def _coat(color: dict[str, Any], roughness: float) -> dict[str, Any]:
    inner = {
        "type": "roughplastic",
        "distribution": "ggx",
        "int_ior": 1.5,
        "alpha": roughness,
        "diffuse_reflectance": color,
    }
    return {"type": "twosided", "bsdf": inner}


def _plain(material: Plain) -> dict[str, Any]:
    if not material.metal and material.roughness >= _DULL:
        return {"type": "twosided", "bsdf": {"type": "diffuse", "reflectance": _rgb(material.color)}}
    if not material.metal:
        return _coat(_rgb(material.color), material.roughness)
    inner = {
        "type": "roughconductor",
        "distribution": "ggx",
        "alpha": material.roughness,
        "material": "none",
        "specular_reflectance": _rgb(material.color),
    }
    return {"type": "twosided", "bsdf": inner}


def _body(mi: Any, body: Body) -> Any:
    assert isinstance(body.material, Plain)
    triangles, normals = body.in_scene()
    return _mesh(mi, triangles, normals, None, _plain(body.material))


def _mesh(mi: Any, triangles: Floats, normals: Floats, spots: Floats | None, surface: dict[str, Any]) -> Any:
    """Triangles with three corners of their own each, so that every one may have its own normals and places in a picture."""
    count = len(triangles)
    given = mi.Properties()
    given["bsdf"] = mi.load_dict(surface)
    mesh = mi.Mesh(
        "body", 3 * count, count, has_vertex_normals=True, has_vertex_texcoords=spots is not None, props=given
    )
    values = mi.traverse(mesh)
    values["vertex_positions"] = np.ascontiguousarray(triangles, dtype=np.float32).reshape(-1)
    values["vertex_normals"] = np.ascontiguousarray(normals, dtype=np.float32).reshape(-1)
    values["faces"] = np.arange(3 * count, dtype=np.uint32)
    if spots is not None:
        values["vertex_texcoords"] = np.ascontiguousarray(spots, dtype=np.float32).reshape(-1)
    values.update()
    return mesh
