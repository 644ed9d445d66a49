"""The design file: read, validated, completed with defaults."""

from __future__ import annotations

from neckmodel.design.design import Design
from neckmodel.design.reading.read import changed, read, read_text
from neckmodel.design.remarks import remarks
from neckmodel.design.tables.board import Allowance, Board
from neckmodel.design.tables.body import Body, Brace, Cutout, OutlineFile, Soundhole
from neckmodel.design.tables.channel import Channel
from neckmodel.design.tables.clamp import Clamp, ClampScrew, NutEnd
from neckmodel.design.tables.fretboard import Fretboard, FretSlot, Margin, Radius, Width
from neckmodel.design.tables.head import Head, HeadOutline, Housing, Tuner
from neckmodel.design.tables.heel import Heel, HeelCap, HeelWidth, Screw, Tenon
from neckmodel.design.tables.info import Info
from neckmodel.design.tables.key import AdjustingKey
from neckmodel.design.tables.limits import Limits, WallLimits
from neckmodel.design.tables.measured import Calibration
from neckmodel.design.tables.neck import Back, BackPair, Neck, Thickness
from neckmodel.design.tables.rod import Bars, Block, Rod, RodPlace, Socket
from neckmodel.design.tables.strings import Action, Nut, Scale, String, Strings
from neckmodel.design.tables.workshop import Cutter, Tolerances, Workshop

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
    "Brace",
    "Calibration",
    "Channel",
    "Clamp",
    "ClampScrew",
    "Cutout",
    "Cutter",
    "Design",
    "FretSlot",
    "Fretboard",
    "Head",
    "HeadOutline",
    "Heel",
    "HeelCap",
    "HeelWidth",
    "Housing",
    "Info",
    "Limits",
    "Margin",
    "Neck",
    "Nut",
    "NutEnd",
    "OutlineFile",
    "Radius",
    "Rod",
    "RodPlace",
    "Scale",
    "Screw",
    "Socket",
    "Soundhole",
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
