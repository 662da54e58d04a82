"""What single drawings show, measured on the paper against the working's values: proportions, amounts, places."""

from __future__ import annotations

import itertools
import math
import xml.etree.ElementTree as ET

import pytest
from drawings import LIBRARY, Drawn, all_drawn, drawn, extent, path_points, points, reckonings_of

from generator.figures import bench_steps, deck_steps, parts
from generator.figures.broken import BrokenScene, kept, wave
from generator.figures.plate_steps import read_backing
from generator.figures.scene import spanned
from generator.figures.tools import pointed


def of(card: str, name: str) -> list[Drawn]:
    """A drawing of every job of a card."""
    return all_drawn(name, [card])


def whole(one: Drawn) -> bool:
    """Whether no strip is left out of it."""
    return not one.parts("break")


def proportion(one: Drawn, name: str) -> float:
    """Width over height of a part."""
    width, height = one.size(name)
    return width / height


# Holes, worn holes, trial joints


@pytest.mark.parametrize(
    ("card", "name", "part", "along", "across"),
    [
        ("bonded-stepped-hole", "hole-large-drill", "hole", "L_o", "D_o"),
        ("blind-stud", "hole-large-drill", "hole", "L_o", "D_o"),
        ("worn-hole", "worn-bored", "bore", "T_wo", "K_wo"),
    ],
)
def test_a_lying_hole_is_to_scale(card: str, name: str, part: str, along: str, across: str) -> None:
    """Where nothing is left out, a shape's length over its width is that of the working."""
    compared = [one for one in of(card, name) if whole(one)]
    assert compared
    for one in compared:
        assert proportion(one, part) == pytest.approx(one.values[along] / one.values[across], rel=0.02)


def test_a_stepped_hole_is_to_scale_down_to_the_point_of_its_drill() -> None:
    compared = [one for one in of("blind-stud", "hole-wet-out") if whole(one)]
    assert compared
    for one in compared:
        tip = one.values["h_g"] if pointed(one.values, "g") else 0.0
        assert proportion(one, "hole") == pytest.approx((one.values["T"] + tip) / one.values["D_o"], rel=0.02)


@pytest.mark.parametrize("card", ["blind-stud", "bonded-stepped-hole"])
def test_base_and_washer_at_a_stepped_hole_are_to_scale(card: str) -> None:
    """Beside a scale bar: the base as thick, the washer as wide as the step that counts the stud's length takes them. A base
    that its fillet would climb over is drawn thicker."""
    thin, compared = 0, of(card, "stepped-hole-section")
    assert compared
    for one in compared:
        scale = one.size("bed")[0] / max(one.values["t_m"], one.values["r_f"])
        assert one.size("washer")[1] == pytest.approx(scale * one.values["D_p"], rel=0.03)
        climbs = one.values["r_f"] - one.values["t_m"] + parts.LIP * one.values["d"]
        thin += climbs > one.values["b_sk"]
        assert one.size("fitting")[0] == pytest.approx(scale * max(one.values["b_sk"], climbs), rel=0.03)
    assert thin < len(compared) / 2


def test_a_plug_and_its_drill_are_to_scale() -> None:
    for one in of("worn-hole", "worn-redrilled"):
        plug, drill = one.size("epoxy")[1], one.size("twist drill")[1]
        assert plug / drill == pytest.approx(one.values["K_wo"] / one.values["D_k"], rel=0.02)


def test_the_plate_and_the_washer_behind_a_plug_are_to_scale() -> None:
    """The plate is what keeps the bolt from drawing the plug through: it is seen to reach past it."""
    for one in of("worn-hole", "worn-section"):
        scale = one.size("backing plate")[0] / one.values["q_sk"]
        low, high = (one.box("backing plate", place) for place in (0, 1))
        plate = max(low[3], high[3]) - min(low[1], high[1])
        assert plate == pytest.approx(one.values["b_wq"] * scale, rel=0.03)
        assert plate > one.size("epoxy")[1]
        assert one.size("washer")[1] == pytest.approx(one.values["D_p"] * scale, rel=0.03)


def test_a_trial_block_and_its_rod_are_to_scale() -> None:
    for one in of("trial-joint", "trial-section"):
        if whole(one) and one.reckoning.texts["hole"] == "through":
            assert proportion(one, "wood") == pytest.approx(one.values["w_tr"] / one.values["T"], rel=0.02)
    for one in of("trial-joint", "trial-cut"):
        ring, rod = one.size("epoxy")[0], one.size("rod")[0]
        assert ring / rod == pytest.approx(one.values["D_o"] / one.values["d"], rel=0.03)


@pytest.mark.parametrize("card", ["bonded-stepped-hole", "blind-stud", "worn-hole"])
def test_the_hole_can_be_seen_at_every_size(card: str) -> None:
    """However deep it is, a hole is drawn wide enough to see: what is too long is broken, not shrunk."""
    sheet = LIBRARY.cards[card]
    for step in sheet.steps:
        for one in of(card, step.drawing) if step.drawing else ():
            for part in ("hole", "epoxy", "bore"):
                if one.parts(part):
                    assert one.size(part)[1] + 0.1 >= 2.5, (step.drawing, part)


# The mixing bench


def test_cups_hold_what_is_weighed() -> None:
    for one in of("mixing", "mix-weigh"):
        values = one.values
        (wide, resin), (_, hardener) = one.size("resin"), one.size("hardener")
        assert hardener / resin == pytest.approx(values["v_hc"] / values["v_rc"], abs=0.02)
        volume = math.pi / 4 * wide**2 * resin
        scale = wide / bench_steps.cup_width(values["v_rc"] + values["v_hc"])
        assert volume / scale**3 == pytest.approx(values["v_rc"], rel=0.01)


def test_tray_and_cup_hold_the_same() -> None:
    """A square tray and a round cup; and the layer is thinner than may be poured."""
    for one in of("mixing", "mix-tray"):
        (long, deep), (wide, high) = one.size("mix", 0), one.size("mix", 1)
        assert long**2 * deep == pytest.approx(math.pi / 4 * wide**2 * high, rel=0.03)
        scale = ((math.pi / 4 * wide**2 * high) / (one.values["v_rc"] + one.values["v_hc"])) ** (1 / 3)
        assert deep / scale < one.values["h_p"]


def test_what_stays_in_the_syringe_is_to_scale() -> None:
    for one in of("mixing", "mix-section"):
        kept_back = one.values["V_nx"] / one.values["V_s"]
        if kept_back == 0:
            assert not one.parts("stays behind")
            continue
        assert one.size("stays behind")[0] / one.size("span")[0] == pytest.approx(kept_back, abs=0.01)


def test_the_blobs_stand_in_the_order_of_the_data_and_the_chosen_one_is_marked() -> None:
    assert list(bench_steps.SHAPES) == list(LIBRARY.tables["consistencies"])
    for one in of("mixing", "mix-stiffness"):
        left, _, right, _ = one.box("chosen")
        place = list(bench_steps.SHAPES).index(one.reckoning.texts["consistency"])
        assert int((left + right) / 2 // (parts.WIDTH / 4)) == place
        hangs = [one.box(name)[3] for name in bench_steps.SHAPES]
        assert hangs == sorted(hangs, reverse=True)


# Heat


def test_the_reach_of_the_heat_is_to_scale() -> None:
    for one in of("heat-removal", "heat-reach"):
        values = one.values
        (long, high), (soft, _) = one.size("hard"), one.size("softened")
        assert high / long == pytest.approx(values["D_o"] / values["L_k"], rel=0.02)
        wanted = values["L_k"] if values["L_k"] <= values["L_end"] else values["L_x"]
        assert soft / long == pytest.approx(wanted / values["L_k"], abs=0.01)
        letters = [text for text, _ in one.words]
        free = [values["L_k"] <= values["L_end"], values["L_k"] <= values["L_both"]]
        assert letters.count("comes free") == sum(free)
        assert letters.count("still hard") == 2 - sum(free)


def test_a_bolt_stands_in_its_hole_at_one_scale() -> None:
    for one in of("heat-removal", "heat-protect"):
        values = one.values
        assert one.size("fastener")[0] / one.size("hard")[0] == pytest.approx(values["d"] / values["D_o"], abs=0.01)
        if one.parts("hard") and values["L_k"] < 3 * values["D_o"]:
            wide, deep = one.size("hard")
            assert deep / wide == pytest.approx(values["L_k"] / values["D_o"], rel=0.02)


def test_what_is_dug_out_is_what_has_softened() -> None:
    for one in of("heat-removal", "heat-stages"):
        wide, deep = one.size("dug out")
        dug = min(one.values["L_x"], one.values["L_k"])
        assert deep / wide == pytest.approx(dug / one.values["D_o"], rel=0.03)


# Bedded fittings


def test_a_core_plug_is_to_scale() -> None:
    for one in of("bedded-cored", "bedded-cored-section"):
        values = one.values
        left, top, right, bottom = one.around("plug")
        scale = (right - left) / values["D_c"]
        assert bottom - top == pytest.approx(values["h_c"] * scale, abs=0.03)
        assert one.size("shank")[0] == pytest.approx(values["d"] * scale, abs=0.03)
        for name, symbol in (("outer skin", "o_sk"), ("core", "c_sk"), ("inner skin", "i_sk")):
            assert one.size(name)[1] == pytest.approx(values[symbol] * scale, abs=0.03)


def test_the_plug_drill_stops_at_the_inner_skin_and_its_flag_at_the_deck() -> None:
    pointed_ones = 0
    for one in of("bedded-cored", "core-overdrill"):
        deck, core, tape = (one.around(name) for name in ("outer skin", "core", "tape"))
        assert tape[3] == pytest.approx(deck[1], abs=0.02)
        if pointed(one.values, "o"):
            pointed_ones += 1
            assert one.box("twist drill")[3] == pytest.approx(core[3], abs=0.02)
        else:
            bit = one.box("flat bit")
            scale = (bit[2] - bit[0]) / one.values["D_c"]
            assert bit[3] - core[3] == pytest.approx(one.values["e_o"] * scale, abs=0.05)
    assert pointed_ones >= 4


def test_bed_and_bolt_are_true_to_scale() -> None:
    for one in of("bedded-solid", "bedded-solid-section"):
        values = one.values
        fitting, deck = one.around("fitting"), one.around("deck")
        scale = one.size("fitting")[0] / (2 * deck_steps.BASE * values["d"])
        assert one.size("shank")[0] == pytest.approx(values["d"] * scale, abs=0.03)
        assert deck[1] - fitting[3] == pytest.approx(
            deck_steps.shown_bed(values, deck_steps.SECTION_TALLEST) * scale, abs=0.03
        )
        assert deck[3] - deck[1] == pytest.approx(min(values["T_sk"], 5 * values["d"]) * scale, abs=0.03)
        assert one.size("washer")[0] == pytest.approx(values["D_p"] * scale, abs=0.03)
        assert bool(one.parts("break")) is (values["T_sk"] > 5 * values["d"])


@pytest.mark.parametrize("card", ["bedded-cored", "bedded-solid"])
def test_beads_keep_clear_of_the_rings_and_of_the_edge(card: str) -> None:
    for one in of(card, "bed-bead"):
        base = one.box("base from below")
        rings = [extent(group) for group in one.parts("ring")]
        beads = [extent(group) for group in one.parts("bead")]
        assert len(rings) == round(one.values["n_h"])
        for box in rings + beads:
            assert base[0] <= box[0] <= box[2] <= base[2]
            assert base[1] <= box[1] <= box[3] <= base[3]
        for first, other in itertools.combinations(rings + beads, 2):
            apart = max(other[0] - first[2], first[0] - other[2], other[1] - first[3], first[1] - other[3])
            assert apart > -0.02, one.reckoning.texts


# Cast threads, bushes, bonded screws


def test_a_cast_thread_is_true_to_scale() -> None:
    for one in of("cast-thread", "thread-fill"):
        values = one.values
        deep, across = one.size("hole")
        assert deep / across == pytest.approx((values["L_o"] + values["h_o"]) / values["D_o"], rel=0.02)
        assert (deep - one.size("epoxy")[0]) / across == pytest.approx(values["g_ct"] / values["D_o"], abs=0.02)
    for one in of("cast-thread", "cast-thread-section"):
        values = one.values
        screw, hole = one.box("fastener"), one.box("hole")
        scale = (hole[3] - hole[1]) / values["D_o"]
        assert (screw[3] - screw[1]) / scale == pytest.approx(values["d"], rel=0.02)
        # in use it stands well off the floor that was cast round it
        assert (screw[2] - hole[0]) / scale == pytest.approx(values["h_ct"] + values["L_ct"], rel=0.02)
        assert screw[2] < hole[2]
        assert values["w_ct"] <= values["e_ct"]


def test_a_bush_is_true_to_scale() -> None:
    for one in of("bonded-bush", "bush-section"):
        values, hole = one.values, one.box("hole")
        scale = (hole[3] - hole[1]) / values["B_bu"]
        assert len(one.parts("bush")) == 2
        left, top, right, bottom = one.around("bush")
        assert (bottom - top) / scale == pytest.approx(values["D_bu"], rel=0.02)
        assert (right - left) / scale == pytest.approx(values["L_bu"], rel=0.02)
        assert (left - hole[0]) / scale == pytest.approx(values["s_bu"], rel=0.1)


def test_the_rising_epoxy_is_what_was_put_in() -> None:
    """The bush half in: epoxy round it and under it make up the amount."""
    one = drawn("bush-push", reckonings_of("bonded-bush")[4])
    hole, epoxy, bush = one.box("hole"), one.box("epoxy"), one.box("bush")
    scale = (hole[3] - hole[1]) / one.values["B_bu"]
    stands, inside = (epoxy[2] - epoxy[0]) / scale, (bush[2] - epoxy[0]) / scale
    amount = math.pi / 4 * (one.values["B_bu"] ** 2 * stands - one.values["D_bu"] ** 2 * inside)
    assert amount == pytest.approx(one.values["E_bu"], rel=0.03)


def test_the_proud_bush_stands_as_far_out_as_the_right_one_stands_in() -> None:
    one = drawn("bush-height", reckonings_of("bonded-bush")[0])
    below, proud = one.box("hole", 0)[0], one.box("hole", 1)[0]
    scale = one.size("hole")[1] / one.values["B_bu"]
    assert (one.box("bush", 0)[0] - below) / scale == pytest.approx(one.values["s_bu"], rel=0.05)
    assert (proud - one.box("bush", 2)[0]) / scale == pytest.approx(one.values["s_bu"], rel=0.05)


def test_a_pilot_is_true_to_scale() -> None:
    for one in of("bonded-screw", "screw-wet"):
        widest = max(one.values["S_sc"], one.values["D_sc"])
        assert proportion(one, "hole") == pytest.approx(one.values["T_sc"] / widest, rel=0.03)
    for one in of("bonded-screw", "bonded-screw-section"):
        screw, hole = one.box("screw"), one.box("hole")
        scale = (hole[2] - hole[0]) / one.values["T_sc"]
        assert (screw[3] - screw[1]) / scale == pytest.approx(one.values["d_sc"], rel=0.05)
        # The tapered tip is a diameter long, and the pilot goes past it by the room under it.
        assert hole[2] - screw[2] == pytest.approx(one.values["c_sc"] * scale, abs=0.1)


# Seats and plates


def test_a_cast_seat_is_to_scale() -> None:
    for one in of("cast-seat", "cast-seat-section"):
        values, (wide, _), (seat, thick) = one.values, one.size("fitting"), one.size("cast seat")
        assert seat == pytest.approx(wide, abs=0.02)
        assert thick / seat == pytest.approx(values["t_e"] / values["b_b"], abs=0.02 / seat)
        assert one.size("hole")[0] / seat == pytest.approx(values["D_k"] / values["b_b"], abs=0.02 / seat)


def test_pads_are_to_scale() -> None:
    for one in of("cast-seat", "seat-pads"):
        assert len(one.parts("pad")) == 3
        corners = [set(points(pad)) for pad in one.parts("pad")]
        middles = sorted(sum(x for x, _ in pad) / len(pad) for pad in corners)
        apart = (middles[2] - middles[0]) / 2 / one.size("fitting")[0]
        assert apart == pytest.approx(one.values["y_rs"] / one.values["b_b"], abs=0.02)


def test_the_ridge_holds_what_the_working_says() -> None:
    """The area of the heap in section, over the length of the base, is the paste to heap on."""
    for one in of("cast-seat", "seat-ridge"):
        scale = one.size("fitting")[0] / one.values["b_b"]
        path = list(points(one.part("paste")))
        ring = path[: len(path) // 2]
        area = abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(ring, ring[1:] + ring[:1], strict=True))) / 2
        assert area / scale**2 * one.values["a_b"] == pytest.approx(one.values["V_rs"], rel=0.01)


def test_a_plate_is_to_scale() -> None:
    for one in of("backing-plate", "plate-size"):
        wide, thick = one.size("plate")
        assert thick / wide == pytest.approx(one.values["h_rsp"] / one.values["b_rs"], abs=0.03 / wide)
        washer = one.size("washer")[0]
        assert washer / wide == pytest.approx(one.values["D_p"] / one.values["b_rs"], abs=0.03 / wide)


def test_a_seat_behind_a_plate_has_its_mean_thickness() -> None:
    """The uneven wood's gap over the whole plate."""
    for reckoning in reckonings_of("backing-plate"):
        plate = read_backing(reckoning.working.values)
        gaps = [plate.gap(plate.b * ((step + 0.5) / 1000 - 0.5)) for step in range(1000)]
        assert sum(gaps) / len(gaps) == pytest.approx(plate.t, rel=1e-6)
        assert min(gaps) > 0


# What would hardly be seen, and what is locked


@pytest.mark.parametrize(
    ("card", "name", "layer"),
    [
        ("bedded-solid", "bedded-solid-section", "spacer"),
        ("bedded-cored", "bedded-cored-section", "spacer"),
        ("released-seat", "released-seat-section", "compound"),
        ("backing-plate", "backing-plate-section", "bed"),
        ("worn-hole", "worn-section", "compound"),
    ],
)
def test_a_thin_layer_is_drawn_so_thick_that_it_is_seen_and_the_drawing_says_so(
    card: str, name: str, layer: str
) -> None:
    """Between two edges of half a millimetre at print size something of it is left."""
    said = set()
    for one in of(card, name):
        thick = one.size(layer)[0 if card == "worn-hole" else 1]
        assert thick > 1.1, one.reckoning.texts
        told = "thicker than it is" in one.figure.caption or "thicker than it is" in one.figure.description
        said.add(told)
        if card == "worn-hole":
            scale = one.size("backing plate")[0] / one.values["q_sk"]
        else:
            scale = one.size("washer")[0] / one.values["D_p"]
        assert told or thick == pytest.approx(one.values["h_b"] * scale, abs=0.05), one.reckoning.texts
        assert thick >= one.values["h_b"] * scale - 0.05
    assert any(said), "a layer of no job is drawn thicker than it is, so nothing says so"


@pytest.mark.parametrize(
    ("card", "name"),
    [
        ("bonded-stepped-hole", "stepped-hole-section"),
        ("blind-stud", "stepped-hole-section"),
        ("worn-hole", "worn-section"),
        ("backing-plate", "backing-plate-section"),
        ("bedded-solid", "bedded-solid-section"),
        ("bedded-cored", "bedded-cored-section"),
        ("cast-seat", "cast-seat-section"),
        ("released-seat", "released-seat-section"),
    ],
)
def test_a_nut_that_is_locked_is_drawn_with_the_second_one(card: str, name: str) -> None:
    """Of every card that locks it, one on the other, and the fastener stands out of both."""
    assert any("second nut" in step.do or "second one" in step.do for step in LIBRARY.cards[card].steps)
    for one in of(card, name):
        near, far = (one.box("nut", place) for place in (0, 1))
        assert len(one.parts("nut")) == 2
        assert min(abs(near[3] - far[1]), abs(near[2] - far[0]), abs(near[0] - far[2])) < 0.02


@pytest.mark.parametrize(("long", "outside"), [(4.0, True), (6.0, True), (6.4, False), (20.0, False)])
def test_a_short_length_has_its_arrows_outside(long: float, outside: bool) -> None:
    """Two heads of 2.6 mm and a line between them want 6.2 mm; in less they would melt into one block."""
    drawn_span = ET.fromstring(spanned([(10.0, 0.0), (10.0 + long, 0.0)], ""))
    heads = [path_points(path.get("d", ""))[0] for path in drawn_span if path.get("class") == "bw-solid"]
    assert len(heads) == 2
    assert [head[0][0] for head in heads] == [10.0, 10.0 + long]
    backs = [head[1][0] for head in heads]
    assert (backs[0] < 10.0 and backs[1] > 10.0 + long) is outside


def test_every_bolt_through_a_seat_is_drawn_down_to_its_nuts() -> None:
    """Plate where there is one, washer and nuts under the wood's lower face."""
    for card, name, thick in (
        ("cast-seat", "cast-seat-section", "T_sk"),
        ("released-seat", "released-seat-section", "T"),
    ):
        for one in of(card, name):
            scale = one.size("fitting")[0] / one.values["b_b"]
            face, plates = one.box("wood")[3], one.parts("backing plate")
            assert bool(plates) is (one.values["q_sk"] > 0)
            under = one.box("backing plate")[3] if plates else face
            assert one.size("washer", 0)[0] == pytest.approx(one.values["D_p"] * scale, abs=0.03)
            assert one.box("washer", 0)[1] == pytest.approx(under, abs=0.02)
            assert one.box("nut", 0)[1] >= under
            if not one.parts("break"):
                deep = face - one.box("wood")[1]
                assert deep >= one.values[thick] * scale - 0.03
                if one.values["R_c"] > 2 * one.values["b_b"]:
                    assert deep == pytest.approx(one.values[thick] * scale, abs=0.03)


def test_the_trials_lever_turns_on_round_bars_on_packers_half_as_broad_as_high() -> None:
    """As the steps lay them: a bar on the middle of each packer, bare wood to the rod, room for a clamp beyond."""
    for one in of("trial-joint", "trial-pull"):
        values = one.values
        wide, high = one.size("packer")
        assert wide == pytest.approx(high / 2, abs=0.03)
        scale = high / values["h_pk"]
        packers, rod = [one.box("packer", place) for place in (0, 1)], one.box("rod")
        for packer, bar in zip(packers, [one.box("round bar", place) for place in (0, 1)], strict=True):
            assert (bar[0] + bar[2]) / 2 == pytest.approx((packer[0] + packer[2]) / 2, abs=0.03)
            assert bar[3] == pytest.approx(packer[1], abs=0.03)
        assert rod[0] - packers[0][2] == pytest.approx(values["g_pk"] * scale, abs=0.05)


# A strip left out


def test_a_line_across_the_strip_is_cut_and_shapes_close_up() -> None:
    scene = BrokenScene(0.0, 10.0, -1.0, 1.0, cut=(2.0, 8.0), gap=1.0)
    assert scene.right == pytest.approx(5.0)
    scene.line([(0.0, 0.0), (10.0, 0.0)])
    assert [[round(x, 6) for x, _ in points] for _, points, _ in scene.extras] == [[0.0, 2.0], [3.0, 5.0]]
    scene.box("wood", (1.0, 9.0), (-1.0, 1.0), "wood")
    assert {round(x, 6) for x, _ in scene.shapes[0][1]} == {1.0, 4.0}
    assert scene.shifted(5.0) == pytest.approx(2.5)


def test_an_upright_view_is_shortened_downwards() -> None:
    scene = BrokenScene(-1.0, 1.0, 0.0, 10.0, upright=True, cut=(2.0, 8.0), gap=1.0)
    assert (scene.right, scene.bottom) == pytest.approx((1.0, 5.0))


def test_without_a_cut_nothing_moves() -> None:
    scene = BrokenScene(-3.0, 10.0, -1.0, 1.0)
    assert scene.right == 10.0
    scene.cut_out(1.0)
    scene.line([(-1.0, 0.0), (10.0, 0.0)])
    assert not scene.shapes
    assert scene.extras[0][1] == [(-1.0, 0.0), (10.0, 0.0)]


def test_kept_pieces_end_at_the_edge() -> None:
    runs = list(kept([(0.0, 0.0), (2.0, 2.0), (0.0, 4.0)], lambda along: 1.0 - along))
    assert runs == [[(0.0, 0.0), (1.0, 1.0)], [(1.0, 3.0), (0.0, 4.0)]]


def test_a_wave_begins_and_ends_where_it_is_told() -> None:
    points = wave((0.0, 1.0), (4.0, 1.0), 0.2)
    assert points[0] == pytest.approx((0.0, 1.0))
    assert points[-1] == pytest.approx((4.0, 1.0))
    assert max(abs(y - 1.0) for _, y in points) == pytest.approx(0.2)
