"""The design file: read, validated, completed with defaults."""

from __future__ import annotations

from neckmodel.design.fretboard import Fretboard, FretSlot, Margin, Radius, Width
from neckmodel.design.head import Head, HeadOutline, Housing, Tuner
from neckmodel.design.model import Design
from neckmodel.design.neck import Back, BackPair, Body, Cutout, Heel, Neck, OutlineFile, Screw, Tenon, Thickness
from neckmodel.design.reader import changed, read, read_text
from neckmodel.design.remarks import remarks
from neckmodel.design.rods import AdjustingKey, Bars, Block, Channel, Rod, RodPlace, Socket
from neckmodel.design.shop import Allowance, Board, Calibration, Cutter, Limits, Tolerances, WallLimits, Workshop
from neckmodel.design.strings import Action, Info, Nut, Scale, String, Strings

__all__ = [
    "Action",
    "AdjustingKey",
    "Allowance",
    "Back",
    "BackPair",
    "Bars",
    "Block",
    "Board",
    "Body",
    "Calibration",
    "Channel",
    "Cutout",
    "Cutter",
    "Design",
    "FretSlot",
    "Fretboard",
    "Head",
    "HeadOutline",
    "Heel",
    "Housing",
    "Info",
    "Limits",
    "Margin",
    "Neck",
    "Nut",
    "OutlineFile",
    "Radius",
    "Rod",
    "RodPlace",
    "Scale",
    "Screw",
    "Socket",
    "String",
    "Strings",
    "Tenon",
    "Thickness",
    "Tolerances",
    "Tuner",
    "WallLimits",
    "Width",
    "Workshop",
    "changed",
    "read",
    "read_text",
    "remarks",
]
