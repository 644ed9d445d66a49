"""The kernel's side of STEP: writes solids with names and colours, and reads them back. Loaded only by the STEP
writer."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import cadquery as cq
from OCP.APIHeaderSection import APIHeaderSection_MakeHeader
from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.gp import gp_Trsf
from OCP.IFSelect import IFSelect_ReturnStatus
from OCP.Interface import Interface_HArray1OfHAsciiString, Interface_Static
from OCP.Quantity import Quantity_Color, Quantity_TOC_sRGB
from OCP.STEPCAFControl import STEPCAFControl_Reader, STEPCAFControl_Writer
from OCP.STEPControl import STEPControl_Controller, STEPControl_StepModelType
from OCP.StepRepr import StepRepr_NextAssemblyUsageOccurrence
from OCP.TCollection import TCollection_ExtendedString, TCollection_HAsciiString
from OCP.TDataStd import TDataStd_Name
from OCP.TDF import TDF_Label, TDF_LabelSequence
from OCP.TDocStd import TDocStd_Document
from OCP.TopLoc import TopLoc_Location
from OCP.XCAFApp import XCAFApp_Application
from OCP.XCAFDoc import XCAFDoc_ColorType, XCAFDoc_DocumentTool
from OCP.XSControl import XSControl_WorkSession

from neckmodel.errors import ExportError
from neckmodel.solids.kernel.facts import Facts, facts_of
from neckmodel.solids.kernel.gate import guarded
from neckmodel.writers.setups import Placement
from neckmodel.writers.step import part21
from neckmodel.writers.step.terms import SCHEMAS, UNITS

Colour = tuple[float, float, float]
STAMP = "2000-01-01T00:00:00"
"""The same date in every file, so that the same design gives the same bytes."""


@dataclass(frozen=True)
class Body:
    """A named, coloured (sRGB, 0 to 1) shape, mm. known: what was measured on it already."""

    name: str
    shape: cq.Shape
    colour: Colour | None
    known: Facts | None = None

    @cached_property
    def facts(self) -> Facts:
        """What is measured on the shape."""
        return facts_of(self.shape) if self.known is None else self.known


@dataclass(frozen=True)
class Heading:
    """What the file's header states. description: lines of at most 256 characters. system: the program."""

    title: str
    description: tuple[str, ...]
    system: str


@contextlib.contextmanager
def statics(**settings: str) -> Iterator[None]:
    """Set the kernel's process-wide STEP settings ("__" stands for ".") and put them back."""
    STEPControl_Controller.Init_s()
    before = {}
    try:
        for key, value in settings.items():
            name = key.replace("__", ".")
            before[name] = Interface_Static.CVal_s(name)
            if not Interface_Static.SetCVal_s(name, value):
                raise ExportError(f"STEP: the CAD kernel refused {name} = {value}")
        yield
    finally:
        for name, value in before.items():
            Interface_Static.SetCVal_s(name, value)


def placed(shape: cq.Shape, placement: Placement) -> cq.Shape:
    """The shape turned and moved, without a location of its own: some programs ignore locations."""
    move = gp_Trsf()
    sign = placement.sign
    move.SetValues(1, 0, 0, 0, 0, sign, 0, 0, 0, 0, sign, placement.lift)
    own = shape.wrapped.Location().Transformation()
    bare = shape.wrapped.Located(TopLoc_Location())
    return cq.Shape.cast(BRepBuilderAPI_Transform(bare, move.Multiplied(own), True).Shape())


def write(path: Path, bodies: Sequence[Body], heading: Heading, schema: str, unit: str) -> None:
    """Write one assembly with a product for each body, in order. Raises ExportError when the kernel refuses."""
    document = _document()
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    colours = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    root = shapes.NewShape()
    TDataStd_Name.Set_s(root, _text(heading.title))
    for body in bodies:
        label = shapes.AddShape(body.shape.wrapped, False, False)
        TDataStd_Name.Set_s(label, _text(body.name))
        if body.colour is not None:
            # as sRGB: the other type is linear light, and would write 0.80 as 0.906
            surface = Quantity_Color(*body.colour, Quantity_TOC_sRGB)
            colours.SetColor(label, surface, XCAFDoc_ColorType.XCAFDoc_ColorSurf)
        component = shapes.AddComponent(root, label, TopLoc_Location())
        TDataStd_Name.Set_s(component, _text(body.name))
    shapes.UpdateAssemblies()
    with statics(
        write__step__schema=SCHEMAS[schema].kernel,
        write__step__unit=UNITS[unit].kernel,
        xstep__cascade__unit="MM",
        write__surfacecurve__mode="On",
        write__step__product__name=heading.title,
    ):
        writer = STEPCAFControl_Writer(XSControl_WorkSession(), False)
        writer.SetColorMode(True)
        writer.SetNameMode(True)
        with guarded("turning parts into STEP", file=path.name):
            done = writer.Transfer(document, STEPControl_StepModelType.STEPControl_AsIs)
        if not done:
            raise ExportError(f"{path.name}: the CAD kernel could not turn the parts into STEP")
        model = writer.ChangeWriter().Model()
        _head(model, heading)
        count = 0
        for index in range(1, model.NbEntities() + 1):  # these numbers come from a process-wide counter
            entity = model.Value(index)
            if isinstance(entity, StepRepr_NextAssemblyUsageOccurrence):
                count += 1
                entity.SetId(TCollection_HAsciiString(str(count)))
        if writer.Write(str(path)) != IFSelect_ReturnStatus.IFSelect_RetDone:
            raise ExportError(f"{path.name}: the CAD kernel could not write the file")
    text = part21.unbroken(path.read_text(encoding="utf-8"))
    text = part21.ascii_only(part21.canonical(text))
    path.write_text(text, encoding="ascii", newline="\n")


def read(path: Path) -> tuple[list[str], list[Body]]:
    """The names of the file's assemblies, and its bodies in mm, in order. Raises ExportError if it cannot be read."""
    document = _document()
    with statics(xstep__cascade__unit="MM"):
        reader = STEPCAFControl_Reader()
        reader.SetNameMode(True)
        reader.SetColorMode(True)
        with guarded("reading STEP", file=path.name):
            done = reader.ReadFile(str(path)) == IFSelect_ReturnStatus.IFSelect_RetDone and reader.Transfer(document)
        if not done:
            raise ExportError(f"{path.name}: the CAD kernel cannot read it")
    shapes = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    colours = XCAFDoc_DocumentTool.ColorTool_s(document.Main())
    bodies: list[Body] = []

    def walk(label: TDF_Label, place: TopLoc_Location) -> None:
        if not shapes.IsAssembly_s(label):
            surface, rgb = Quantity_Color(), None
            for kind in (XCAFDoc_ColorType.XCAFDoc_ColorSurf, XCAFDoc_ColorType.XCAFDoc_ColorGen):
                if rgb is None and colours.GetColor_s(label, kind, surface):
                    red, green, blue = surface.Values(Quantity_TOC_sRGB)
                    rgb = (red, green, blue)
            bodies.append(Body(_name(label), cq.Shape.cast(shapes.GetShape_s(label).Moved(place)), rgb))
            return
        children = TDF_LabelSequence()
        shapes.GetComponents_s(label, children)
        for index in range(1, children.Length() + 1):
            child, referred = children.Value(index), TDF_Label()
            shapes.GetReferredShape_s(child, referred)
            walk(referred, place.Multiplied(shapes.GetLocation_s(child)))

    free = TDF_LabelSequence()
    shapes.GetFreeShapes(free)
    roots = [free.Value(index) for index in range(1, free.Length() + 1)]
    for root in roots:
        walk(root, TopLoc_Location())
    return [_name(root) for root in roots], bodies


def _document() -> TDocStd_Document:
    document = TDocStd_Document(_text("BinXCAF"))
    XCAFApp_Application.GetApplication_s().InitDocument(document)
    XCAFDoc_DocumentTool.SetLengthUnit_s(document, 0.001)
    return document


def _text(text: str) -> TCollection_ExtendedString:
    return TCollection_ExtendedString(text, True)  # True: UTF-8; the default takes it as Latin-1


def _name(label: TDF_Label) -> str:
    name = TDataStd_Name()
    return str(name.Get().ToExtString()) if label.FindAttribute(TDataStd_Name.GetID_s(), name) else ""


def _head(model: object, heading: Heading) -> None:
    header, line = APIHeaderSection_MakeHeader(model), TCollection_HAsciiString
    lines = Interface_HArray1OfHAsciiString(1, len(heading.description))
    for index, text in enumerate(heading.description, start=1):
        lines.SetValue(index, line(text))
    header.SetDescription(lines)
    header.SetName(line(heading.title))
    header.SetTimeStamp(line(STAMP))
    header.SetAuthorValue(1, line(""))
    header.SetOrganizationValue(1, line(""))
    header.SetAuthorisation(line(""))
    header.SetPreprocessorVersion(line(heading.system))
    header.SetOriginatingSystem(line(heading.system))
