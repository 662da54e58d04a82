"""Drawings as functions of the working's symbols."""

from __future__ import annotations

from collections.abc import Callable

from . import (
    bench_steps,
    bonded_screw,
    bush,
    cast_thread,
    deck_steps,
    heat_steps,
    hole_steps,
    plate_steps,
    seat_steps,
    trial_steps,
    worn_steps,
)
from .parts import Figure
from .stepped_hole import stepped_hole_section

# By the name a card asks for.
FIGURES: dict[str, Callable[..., Figure]] = {
    "stepped-hole-section": stepped_hole_section,
    "mix-section": bench_steps.section,
    "mix-weigh": bench_steps.weigh,
    "mix-scrape": bench_steps.scrape,
    "mix-second-cup": bench_steps.second_cup,
    "mix-tray": bench_steps.tray,
    "mix-stiffness": bench_steps.stiffness,
    "mix-load": bench_steps.load,
    "heat-section": heat_steps.section,
    "heat-protect": heat_steps.protect,
    "heat-iron": heat_steps.heat,
    "heat-reach": heat_steps.reach,
    "heat-turn": heat_steps.turn,
    "heat-lever": heat_steps.lever,
    "heat-stages": heat_steps.stages,
    "hole-large-drill": hole_steps.hole_large_drill,
    "hole-guide-drill": hole_steps.hole_guide_drill,
    "hole-unknown-thickness": hole_steps.hole_unknown_thickness,
    "hole-wet-out": hole_steps.hole_wet_out,
    "hole-fill": hole_steps.hole_fill,
    "hole-set": hole_steps.hole_set,
    "hole-void": hole_steps.hole_void,
    "hole-draw-up": hole_steps.hole_draw_up,
    "hole-look-again": hole_steps.hole_look_again,
    "blind-air-path": hole_steps.blind_air_path,
    "worn-section": worn_steps.worn_section,
    "worn-before": worn_steps.worn_before,
    "worn-bored": worn_steps.worn_bored,
    "worn-filled": worn_steps.worn_filled,
    "worn-redrilled": worn_steps.worn_redrilled,
    "worn-too-little": worn_steps.worn_too_little,
    "trial-section": trial_steps.trial_section,
    "trial-block": trial_steps.trial_block,
    "trial-pull": trial_steps.trial_pull,
    "trial-cut": trial_steps.trial_cut,
    "trial-judge": trial_steps.trial_judge,
    "cast-seat-section": seat_steps.cast_seat_section,
    "seat-pads": seat_steps.seat_pads,
    "seat-ridge": seat_steps.seat_ridge,
    "seat-pressed": seat_steps.seat_pressed,
    "seat-fillet": seat_steps.seat_fillet,
    "seat-bowed": seat_steps.seat_bowed,
    "released-seat-section": seat_steps.released_seat_section,
    "released-wax": seat_steps.released_wax,
    "released-dam": seat_steps.released_dam,
    "released-press": seat_steps.released_press,
    "released-lift": seat_steps.released_lift,
    "released-refit": seat_steps.released_refit,
    "backing-plate-section": plate_steps.backing_plate_section,
    "plate-size": plate_steps.plate_size,
    "plate-corners": plate_steps.plate_corners,
    "plate-seat": plate_steps.plate_seat,
    "plate-tight": plate_steps.plate_tight,
    "plate-rocks": plate_steps.plate_rocks,
}
FIGURES |= deck_steps.STEPS | cast_thread.FIGURES | bush.FIGURES | bonded_screw.FIGURES

__all__ = ["FIGURES", "Figure", "stepped_hole_section"]
