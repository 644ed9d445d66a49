"""The gate that every kernel operation passes, and the booleans.

A kernel call may fail with an empty message, or succeed and be wrong by half its volume. So every result is counted,
checked and measured here before other code gets it. Lengths mm, volumes mm3.
"""
# ruff: noqa: E402 - the loader runs before the kernel's own modules, to explain a missing system library

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from neckmodel.errors import KernelError
from neckmodel.memory.remembered import remembered
from neckmodel.memory.sizes import bytes_of
from neckmodel.solids.kernel.load import load_cadquery

load_cadquery()

import cadquery as cq
from OCP.BRepAlgoAPI import BRepAlgoAPI_Common, BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse, BRepAlgoAPI_Splitter
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepClass3d import BRepClass3d_SolidClassifier
from OCP.BRepGProp import BRepGProp
from OCP.gp import gp_Pnt
from OCP.GProp import GProp_GProps
from OCP.TopAbs import TopAbs_FACE, TopAbs_IN, TopAbs_OUT, TopAbs_SOLID
from OCP.TopExp import TopExp
from OCP.TopTools import TopTools_IndexedMapOfShape, TopTools_ListOfShape

FUZZY = 1e-5  # mm; removes slivers where tools touch in a point, far below any feature
ON_FACE = 1e-6  # mm; a point this near to a face lies on it
SLIVER = 1e-6  # mm3; a "solid" smaller than this is a leftover of the boolean
INTEGRATION = 1e-6  # relative; without it the volume of a B-spline solid can be wrong by 20 %
A_FACE = 8192  # bytes of memory for a face: three times what the kernel's binary file takes for one of a fretboard


def solid_bytes(solid: Any) -> int:
    """Estimated bytes of memory that a CadQuery or bare kernel shape takes, with its edges and curves."""
    faces = TopTools_IndexedMapOfShape()
    TopExp.MapShapes_s(_bare(solid), TopAbs_FACE, faces)
    return A_FACE * int(faces.Extent())


@contextmanager
def guarded(operation: str, **parameters: object) -> Iterator[None]:
    """Turns whatever the kernel raises inside into a KernelError with the operation's name and parameters."""
    try:
        yield
    except KernelError:
        raise
    except Exception as error:  # the kernel's exceptions share no other root
        text = " ".join(str(error).split())
        raise KernelError(operation, type(error).__name__ + (f": {text}" if text else ""), **parameters) from error


@remembered(bytes_of)
def volume(solid: Any) -> float:
    """Volume of a CadQuery or bare kernel shape, mm3."""
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(_bare(solid), properties, INTEGRATION)
    return float(properties.Mass())


@remembered(bytes_of)
def is_sound(solid: Any) -> bool:
    """Whether the kernel's own checker finds nothing wrong (necessary, not sufficient: see `gate`)."""
    return bool(BRepCheck_Analyzer(_bare(solid)).IsValid())


def probe(solid: Any, outside: bool = False) -> Callable[[float, float, float], bool]:
    """A test of points: whether a point, mm, lies inside the solid (or outside it). A point on a face is neither."""
    classifier, wanted = BRepClass3d_SolidClassifier(_bare(solid)), TopAbs_OUT if outside else TopAbs_IN

    def asked(x: float, y: float, z: float) -> bool:
        classifier.Perform(gp_Pnt(x, y, z), ON_FACE)
        return bool(classifier.State() == wanted)

    return asked


def gate(shape: Any, operation: str, volume: float | None = None, rtol: float = 1e-6, chips: float = 0.0) -> cq.Solid:
    """The one valid solid in `shape`; KernelError, naming the operation and the fault, where there is none.

    volume: expected, mm3, from a route that does not use the kernel; rtol: relative tolerance on it. chips: share of
    the largest solid up to which other solids are chips that fall off, and are dropped.
    """
    bare = _bare(shape)
    if bare is None or bare.IsNull():
        raise KernelError(operation, "no shape came back")
    sized = [(solid, _volume(solid)) for solid in _solids(bare)]
    largest = max((abs(size) for _, size in sized), default=0.0)
    whole = [(solid, size) for solid, size in sized if abs(size) > max(SLIVER, chips * largest)]
    if len(whole) != 1:
        raise KernelError(operation, f"{len(whole)} solids instead of one", volumes=[round(v, 3) for _, v in whole])
    solid, size = whole[0]
    if not BRepCheck_Analyzer(solid).IsValid():
        raise KernelError(operation, "the solid is not valid")
    if size <= 0:
        raise KernelError(operation, "the solid is inside out", volume=round(size, 3))
    if volume is not None and abs(size - volume) > rtol * volume:
        raise KernelError(operation, "the volume is not what it should be", volume=size, expected=volume, rtol=rtol)
    return cq.Solid(solid)


@remembered(solid_bytes)
def cut(
    solid: Any,
    tools: Iterable[Any],
    operation: str = "cut",
    volume: float | None = None,
    rtol: float = 1e-6,
    chips: float = 0.0,
) -> cq.Solid:
    """`solid` less every tool, in one call, checked by the gate. Tools may overlap each other."""
    return gate(_boolean(BRepAlgoAPI_Cut, solid, tools, operation), operation, volume, rtol, chips)


@remembered(solid_bytes)
def common(
    solid: Any,
    tools: Iterable[Any],
    operation: str = "common",
    volume: float | None = None,
    rtol: float = 1e-6,
    chips: float = 0.0,
) -> cq.Solid:
    """The space that `solid` shares with the union of the tools, checked by the gate."""
    return gate(_boolean(BRepAlgoAPI_Common, solid, tools, operation), operation, volume, rtol, chips)


@remembered(solid_bytes)
def fuse(
    solid: Any, tools: Iterable[Any], operation: str = "fuse", volume: float | None = None, rtol: float = 1e-6
) -> cq.Solid:
    """`solid` and every tool as one solid, checked by the gate."""
    return gate(_boolean(BRepAlgoAPI_Fuse, solid, tools, operation), operation, volume, rtol)


@remembered(solid_bytes)
def unite(solids: Sequence[Any], operation: str = "unite") -> Any:
    """The union of solids as one kernel shape, of one piece or several."""
    return _boolean(BRepAlgoAPI_Fuse, solids[0], solids[1:], operation)


def split(solid: Any, tools: Iterable[Any], operation: str = "split") -> list[cq.Solid]:
    """The pieces into which the tools' faces divide a solid, on both sides of them; slivers are dropped."""
    pieces = _solids(_boolean(BRepAlgoAPI_Splitter, solid, tools, operation))
    return [cq.Solid(piece) for piece in pieces if abs(volume(piece)) > SLIVER]


def _solids(bare: Any) -> list[Any]:
    found = TopTools_IndexedMapOfShape()
    TopExp.MapShapes_s(bare, TopAbs_SOLID, found)
    return [found.FindKey(i + 1) for i in range(found.Extent())]


def _boolean(kind: Any, solid: Any, tools: Iterable[Any], operation: str) -> Any:
    bare = [_bare(tool) for tool in tools]
    if not bare:
        return _bare(solid)

    with guarded(operation, tools=len(bare)):
        algorithm = kind()
        algorithm.SetArguments(_listed([_bare(solid)]))
        algorithm.SetTools(_listed(bare))
        algorithm.SetNonDestructive(True)
        algorithm.SetFuzzyValue(FUZZY)
        algorithm.Build()
        if not algorithm.IsDone():
            raise KernelError(operation, "the kernel gave up", tools=len(bare))
        return algorithm.Shape()


def _listed(shapes: Sequence[Any]) -> Any:
    listed = TopTools_ListOfShape()
    for shape in shapes:
        listed.Append(shape)
    return listed


def _bare(shape: Any) -> Any:
    """The kernel's own shape inside a CadQuery one."""
    return shape.wrapped if isinstance(shape, cq.Shape) else shape


_volume = volume  # `gate` has an argument of that name
