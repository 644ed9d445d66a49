"""What each check measures, its limit and where that comes from."""

from __future__ import annotations

from neckmodel.checks.explain.about import About
from neckmodel.checks.explain.behind import ABOUT_BEHIND
from neckmodel.checks.explain.head import ABOUT_HEAD
from neckmodel.checks.explain.peg import ABOUT_PEG
from neckmodel.checks.explain.strength import ABOUT_STRENGTH
from neckmodel.design.defaults.defaults import RANGES, default
from neckmodel.design.defaults.instruments import PAST_JOINT
from neckmodel.limits import (
    BASE_THICKNESS,
    BELOW_FRETBOARD,
    BEYOND_WING,
    BITE_FROM,
    BITE_TO,
    FLAT,
    LEAST_AREA,
    LEAST_MODULUS,
    LEAST_UNDER_SLOT,
    MOST_BELOW,
    MOST_LOOSE,
    PAST_STRING,
    TEMPLATE_THICKNESS,
    TRUED_OFF,
    TRUED_OFF_EDGE,
    USUAL_GLUE,
    USUAL_GRAIN,
    USUAL_OFF,
)

CLEARANCE = RANGES["channel.adjuster_clearance"]

# `explain` loads no kernel, so the texts stand here, apart from the functions, which are imported when they run.
ABOUT: tuple[About, ...] = (
    About(
        "wall/<step>",
        "the least wood, in any direction, between a step of the channel and the finished outside of the "
        "neck, measured on the carved solid",
        f"limits.wall, {default('limits.wall.run'):.1f} mm; negative is a break-through, by its depth",
        "common practice, no source",
    ),
    About(
        "wall/rod-end",
        "the wood between the end of the channel and the end of the neck's wood (or the nearest cut-out in the body)",
        f"limits.wall.rod_end, {default('limits.wall.rod_end'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "wall/between",
        "the least wood between the channels of two rods, and between either of them and a bar's, at any depth",
        f"limits.wall.between, {default('limits.wall.between'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "wall/screw",
        "the least wood between the hole of a screw, dowel or insert and the channel",
        f"limits.wall.screw, {default('limits.wall.screw'):.1f} mm",
        "common practice, no source",
    ),
    *ABOUT_PEG,
    About(
        "wall/tuner",
        "the least wood between a tuner's hole and the access slot",
        f"limits.wall.tuner, {default('limits.wall.tuner'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "section/nut",
        "how much of the cross-section is left at the nut and behind it: its area, and its section "
        "modulus at the back, where the strings pull the wood",
        f"warns below {LEAST_AREA:.2f} of the area or {LEAST_MODULUS:.2f} of the modulus",
        "common practice, no source",
    ),
    About(
        "cover/<step>",
        "how far the fretboard reaches beyond a step of the channel, at its sides and its end",
        f"limits.cover_run, {default('limits.cover_run'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "cover/strip",
        "how thick the strip glued over a compression rod is where it is thinnest; its glue surface on both walls of "
        "the channel is told with it",
        f"limits.cover_strip, {default('limits.cover_strip'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "glue/nut",
        "the glue surface left either side of the opening at the nut",
        f"limits.glue_nut, {default('limits.glue_nut'):.1f} mm; {USUAL_GLUE:.1f} is usual",
        "common practice, no source",
    ),
    About(
        "fret-slots/wood",
        "the least wood under a fret slot, or under a line of a lined fretless fretboard; a plain one has none",
        f"more than {LEAST_UNDER_SLOT:.1f} mm",
        "common practice, no source",
    ),
    About(
        "fret-slots/edge",
        "the depth of a fret slot at the fretboard's edge, where the tang needs a seat",
        f"warns below limits.fret_slots_edge, {default('limits.fret_slots_edge'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "place/adjuster",
        "how far the rod's place lies inside the interval in which it may lie",
        "0 mm or more",
        "geometry: the gap from the nut, the joint, the wood's end, the fretboard's end, the key's arm",
    ),
    About(
        "place/anchor",
        "how far the rod's anchor reaches past the joint",
        f"rod_place.past_joint, {PAST_JOINT:g} mm ({RANGES['rod_place.past_joint'].low:g} to "
        f"{RANGES['rod_place.past_joint'].high:g})",
        "common practice, no source",
    ),
    About(
        "place/span",
        "how far the adjuster's block ends before fret 1; beyond it the first frets are not straightened",
        "warns below 0 mm",
        "common practice, no source",
    ),
    About(
        "place/wheel",
        "how far past the fretboard a wheel at the heel begins that stands above the glue plane",
        "0 mm or more",
        "geometry: the wheel's radius less its axis's depth",
    ),
    About(
        "place/<bar>",
        "how far a bar's place lies inside the interval in which it may lie",
        "0 mm or more",
        "geometry, as for the rod",
    ),
    About(
        "fit/rod-way",
        "how far the thread of a two-way rod lies on the side of half the rod's height that its flat bar leaves it, "
        "where rod.bar says which way the bar lies",
        "warns below 0: then the bar lies the other way, or the axis was measured with the rod turned over",
        "a flat bar and a thread side by side; common practice, no source",
    ),
    About(
        "fit/<step>",
        "the play of the rod, or of a bar in a measured channel, in width; that its top is not proud of the glue plane "
        "and no void is left under it",
        f"0 to limits.fit_run, {default('limits.fit_run'):.1f} mm in width; top 0.0 to {MOST_BELOW} mm below",
        "common practice, no source",
    ),
    About(
        "fit/adjuster",
        "the clearance round the adjuster over its whole travel",
        f"more than 0; {CLEARANCE.low} to {CLEARANCE.high} mm on the diameter is usual",
        "common practice, no source",
    ),
    About(
        "fit/strip",
        "how far the cover strip stays off the compression rod, which must bear on it",
        f"at most {MOST_LOOSE} mm",
        "common practice, no source",
    ),
    About(
        "access/body",
        "the pocket that the body needs for an adjuster at the heel and its key: told, not measured against a limit",
        "none",
        "geometry",
    ),
    About(
        "access/reach",
        "how much longer a key that enters through the soundhole, or at the end of a neck without a head, is than it "
        "must be: engaged, a straight one stands adjusting_key.grip past the soundhole's edge, or past the neck's end "
        "and its clamp, its handle counted; an L-key's other arm stands clear of them",
        "0 mm or more",
        f"geometry; {default('adjusting_key.grip'):g} mm to hold by common practice, no source",
    ),
    About(
        "access/top",
        "how far under the top the bore for a key from the soundhole passes, with the neck's angle; negative where it "
        "cuts the top",
        "0 mm or more",
        f"geometry; the top {default('body.top_thickness')} mm thick by common practice, no source",
    ),
    About(
        "access/brace",
        "the wood that a brace keeps under the bore for a key from the soundhole, and over it, where the top is glued "
        "to it",
        f"limits.access_brace, {default('limits.access_brace'):.1f} mm: fails under the bore, warns over it; "
        "negative where the bore comes out",
        "common practice, no source",
    ),
    About(
        "access/swing",
        "whether the key can be turned from one flat of its socket to the next, with nut, fretboard and wood in place; "
        "from the soundhole, whether a hanging arm clears the body's back and a handle its block, braces and top",
        "60 degrees (of a spoke wheel: from hole to hole) and the play of key and socket",
        "ISO 4762 sockets, JIS B 4648 keys; geometry",
    ),
    About(
        "access/withdraw",
        "whether the key can be put in and drawn out; from the soundhole, whether its outer end then lies in the "
        "soundhole, or passes under the top beyond it",
        "nothing in its way",
        "geometry",
    ),
    About(
        "access/strings",
        "whether the key can be turned with the strings at pitch; from the soundhole, whether it goes in beside an "
        f"outer string, with {PAST_STRING:.1f} mm to spare",
        "warns where strings must be slackened",
        f"geometry; {PAST_STRING:.1f} mm beside a string by common practice, no source",
    ),
    About(
        "overlap/<part>-<part>",
        "whether two parts claim the same space; touching is not overlapping",
        f"no shared volume of more than {FLAT:.4f} mm mean thickness",
        "geometry",
    ),
    About(
        "cutter/<step>",
        "whether a cutter of the rack fits the step and reaches its floor",
        "width, stick-out and flutes",
        f"geometry; {BASE_THICKNESS:g} mm of base plate and {TEMPLATE_THICKNESS:g} mm of template are common practice, "
        "no source",
    ),
    About(
        "stock/size",
        f"whether the blank can be sawn from the stated board once that is trued, which takes {TRUED_OFF:g} mm of a "
        f"rough one's thickness and {TRUED_OFF_EDGE} mm at each of its edges",
        "0 mm to spare or more; warns where the design does not say whether the board is trued and a rough one would "
        "not do",
        "geometry; what truing takes by common practice, no source",
    ),
    About("stock/pieces", "whether the board has room for heel blocks and wings too", "warns where not", "geometry"),
    About(
        "stock/seams",
        "how much of a strip of a glued-up board stays on a wall of the channel, between the wall and the next seam; a "
        "seam on the wall leaves nothing, and one inside the channel is told",
        f"warns under limits.stock_seams, {default('limits.stock_seams'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "stock/grain",
        "the slope of the grain",
        f"warns above 1 in {1 / USUAL_GRAIN:.0f}, fails above limits.stock_grain, "
        f"1 in {1 / default('limits.stock_grain'):.0f}",
        "common practice, no source",
    ),
    *ABOUT_HEAD,
    About(
        "body/cut-outs",
        "the wood of the body between the neck's end and the first cut-out behind it",
        f"limits.wall.rod_end, {default('limits.wall.rod_end'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "body/wings",
        "whether the wings of a neck that runs through are glued along all of their inner sides",
        f"warns where {BEYOND_WING} mm or more of a wing has nothing to be glued to",
        "common practice, no source",
    ),
    About(
        "body/skew",
        "how far a neck set square against the template's joint line points off the body's centre line at the bridge",
        f"warns above {USUAL_OFF} mm",
        "common practice, no source",
    ),
    About(
        "heel/screws",
        "how far the screw that bites least goes into the neck, and how far the points stay below the fretboard",
        f"limits.heel_screws, {default('limits.heel_screws'):g} mm; {BITE_FROM:g} to {BITE_TO:g} mm is usual in "
        f"hardwood; {BELOW_FRETBOARD:.1f} mm below the glue plane",
        "common practice, no source",
    ),
    About(
        "heel/dovetail",
        "the least wood of a dovetail in its section at the root, where it joins the heel: either side of the channel "
        "at the channel's floor, and half its width at the bottom",
        f"limits.heel_dovetail, {default('limits.heel_dovetail'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "heel/shoulder",
        "the width of the heel's shoulder at each side of a dovetail, least of all depths: from the dovetail's end "
        "face, its widest place, to the heel's outside at the joint",
        f"warns under limits.heel_shoulder, {default('limits.heel_shoulder'):.1f} mm",
        "common practice, no source",
    ),
    About(
        "heel/end",
        "the wood between a screw's hole and the heel's outside",
        f"limits.wall.screw, {default('limits.wall.screw'):.1f} mm",
        "common practice, no source",
    ),
    *ABOUT_BEHIND,
    *ABOUT_STRENGTH,
)
