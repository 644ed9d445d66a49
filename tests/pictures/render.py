"""The README's pictures of the presets: `python tests/pictures/render.py [NAME ...]` writes NAME.png beside this file.

A contributor's tool. It draws off screen with VTK, which CadQuery brings along. Above: the neck with its fretboard seen
through, the rod in its channel; below: its back.
"""

from __future__ import annotations

import sys
from pathlib import Path

import numpy as np
import vtkmodules.vtkRenderingOpenGL2  # noqa: F401 - the renderer registers itself
from vtkmodules.util.numpy_support import numpy_to_vtk, numpy_to_vtkIdTypeArray
from vtkmodules.vtkCommonCore import vtkPoints
from vtkmodules.vtkCommonDataModel import vtkCellArray, vtkPolyData
from vtkmodules.vtkFiltersCore import vtkPolyDataNormals
from vtkmodules.vtkIOImage import vtkPNGWriter
from vtkmodules.vtkRenderingCore import (
    vtkActor,
    vtkCamera,
    vtkLight,
    vtkPolyDataMapper,
    vtkRenderer,
    vtkRenderWindow,
    vtkWindowToImageFilter,
)

from neckmodel.design import read
from neckmodel.layout import lay_out
from neckmodel.meshes import mesh_of
from neckmodel.presets import names, path_of
from neckmodel.solids import build
from neckmodel.solids.parts import Part, Parts

SIZE = (900, 420)
LINEAR = 0.1  # mm, finer than a pixel
HIDDEN = ("board", "blank", "adjusting-key", "screw")  # and those that begin so
FOLDER = Path(__file__).parent
GLASS = 0.42  # of the fretboard, seen from above


def actor_of(part: Part, turned: bool) -> vtkActor:
    """turned: the part turned over about x, so that its back is seen, and moved beside the other."""
    mesh = mesh_of(part.solid, LINEAR)
    points = np.array(mesh.vertices, float)
    if turned:
        points = points * [1.0, -1.0, -1.0]
    corners = np.hstack([np.full((len(mesh.faces), 1), 3), np.array(mesh.faces)]).astype(np.int64)
    data, place, cells = vtkPolyData(), vtkPoints(), vtkCellArray()
    place.SetData(numpy_to_vtk(points, deep=True))
    cells.ImportLegacyFormat(numpy_to_vtkIdTypeArray(corners.ravel(), deep=True))
    data.SetPoints(place)
    data.SetPolys(cells)
    smooth = vtkPolyDataNormals()
    smooth.SetInputData(data)
    smooth.SetFeatureAngle(25.0)
    mapper, actor = vtkPolyDataMapper(), vtkActor()
    mapper.SetInputConnection(smooth.GetOutputPort())
    actor.SetMapper(mapper)
    shine = actor.GetProperty()
    shine.SetColor(*part.colour[:3])
    shine.SetAmbient(0.25)
    shine.SetDiffuse(0.75)
    shine.SetSpecular(0.12)
    if part.name == "fretboard" and not turned:
        shine.SetOpacity(GLASS)
    return actor


def _aim(camera: vtkCamera, shown: list[Part], turned: bool) -> None:
    """Everything in the picture, with a little room round it."""
    across, up = np.array([0.975, -0.22, 0.0]), np.array([0.15, 0.6, 0.78])
    up -= across * (up @ across) / (across @ across)
    across, up = across / np.linalg.norm(across), up / np.linalg.norm(up)
    boxes = np.array(
        [[(b.xmin, b.ymin, b.zmin), (b.xmax, b.ymax, b.zmax)] for b in (p.solid.BoundingBox() for p in shown)]
    )
    boxes = boxes * [1.0, -1.0, -1.0] if turned else boxes
    corners = np.array(
        [(box[i, 0], box[j, 1], box[k, 2]) for box in boxes for i in (0, 1) for j in (0, 1) for k in (0, 1)]
    )
    seen = corners @ np.stack([across, up], axis=1)
    low, high = seen.min(axis=0), seen.max(axis=0)
    middle = across * (low + high)[0] / 2 + up * (low + high)[1] / 2
    camera.ParallelProjectionOn()
    camera.SetFocalPoint(*middle)
    camera.SetPosition(*(middle + 1000.0 * np.cross(across, up)))
    camera.SetViewUp(*up)
    wide, tall = (high - low) / 2
    camera.SetParallelScale(1.05 * max(wide * (SIZE[1] / 2) / SIZE[0], tall))


def picture(parts: Parts, path: Path) -> None:
    shown = [part for part in parts.parts if not part.name.startswith(HIDDEN)]
    window = vtkRenderWindow()
    window.SetOffScreenRendering(1)
    window.SetMultiSamples(8)
    window.SetAlphaBitPlanes(1)
    window.SetSize(*SIZE)
    for turned, low, high in ((False, 0.5, 1.0), (True, 0.0, 0.5)):
        scene = vtkRenderer()
        scene.SetViewport(0.0, low, 1.0, high)
        scene.SetBackground(1.0, 1.0, 1.0)
        for part in shown:
            scene.AddActor(actor_of(part, turned))
        light = vtkLight()
        light.SetPosition(-300.0, -500.0, 900.0)
        light.SetFocalPoint(200.0, 0.0, 0.0)
        light.SetIntensity(0.75)
        scene.AddLight(light)
        _aim(scene.GetActiveCamera(), shown, turned)
        scene.ResetCameraClippingRange()
        window.AddRenderer(scene)
    window.Render()
    grab, writer = vtkWindowToImageFilter(), vtkPNGWriter()
    grab.SetInput(window)
    grab.ReadFrontBufferOff()
    writer.SetInputConnection(grab.GetOutputPort())
    writer.SetFileName(str(path))
    writer.SetCompressionLevel(9)
    writer.Write()


def main() -> None:
    for name in sys.argv[1:] or names():
        path = path_of(name)
        if path is None:
            sys.exit(f"no preset is called {name}")
        picture(build(lay_out(read(path))), FOLDER / f"{name}.png")


if __name__ == "__main__":
    main()
