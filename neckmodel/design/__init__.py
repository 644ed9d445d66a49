"""The design file: read, validated, completed with defaults."""

from __future__ import annotations

from neckmodel.design.design import Design
from neckmodel.design.reading.read import changed, read, read_text
from neckmodel.design.remarks import remarks
from neckmodel.design.tables.fretboard import Fretboard, FretSlot, Margin, Radius, Width
from neckmodel.design.tables.head import Head, HeadOutline, Housing, Tuner
from neckmodel.design.tables.neck import Back, BackPair, Body, Cutout, Heel, Neck, OutlineFile, Screw, Tenon, Thickness
from neckmodel.design.tables.rod import AdjustingKey, Bars, Block, Channel, Rod, RodPlace, Socket
from neckmodel.design.tables.strings import Action, Info, Nut, Scale, String, Strings
from neckmodel.design.tables.workshop import (
    Allowance,
    Board,
    Calibration,
    Cutter,
    Limits,
    Tolerances,
    WallLimits,
    Workshop,
)

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
