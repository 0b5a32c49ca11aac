"""What each remedy does to plausible machines: see `remedies/effect.rs`."""

import numpy as np

EFFECTS = (
    "Grip Trueness Seat Play EndPlay Tracks Push BraceX BraceY BraceDamping Quill Slides Clamp Stop Edge Money".split()
)
Z_90 = 1.2815515655446004


def change_machine(remedy, before, after, iron, extras):
    """The machines with `remedy` in place; arrays that it leaves alone stay the very same."""
    iron = dict(iron)
    effects = dict(zip(EFFECTS, extras))
    machine, holding, cutter = after["machine"], after["holding"], after["cutter"]

    def of(effect, estimate):
        median, log_sd = estimate
        return median * np.exp(log_sd * effects[effect])

    def draw(effect, low, high):
        return of(effect, (np.sqrt(low * high), np.log(high / low) / (2 * Z_90)))

    def times(factor, *names):
        for name in names:
            iron[name] = iron[name] * factor

    def at_least(value, name):
        iron[name] = np.maximum(iron[name], value)

    def at_most(value, name):
        iron[name] = np.minimum(iron[name], value)

    def new_bearings():
        iron["RadialPlay"] = of("Play", machine["radial_play"])
        iron["AxialPlay"] = of("EndPlay", machine["axial_play"])
        iron["PreloadForce"] = of("Push", machine["preload"])
        if before["machine"]["condition"] != "sound":
            iron["BearingFactor"] = draw("Tracks", 0.5, 1.2)

    def hold_cutter():
        iron["Joint"] = draw("Grip", *cutter["grip"])
        iron["Runout"] = 1e-3 * draw("Trueness", *cutter["runout"])

    match remedy:
        case "slow_down" | "speed_up":
            times((after["cut"]["speed"] / before["cut"]["speed"]) ** -0.2, "ProcessRoughness")
        case "clamp_lower":
            times(draw("Clamp", 1.1, 1.7), "ClampForce")
        case "stop_and_clamp" if holding["kind"] == before["holding"]["kind"]:
            times(draw("Stop", 1.15, 1.7), "HoldingX", "HoldingY", "HoldingZ")
            times(draw("Clamp", 1.2, 1.8), "ClampForce")
        case "stop_and_clamp":
            for way, stiffness in zip("XYZ", holding["stiffness"]):
                at_least(draw("Stop", *stiffness), "Holding" + way)
            at_least(draw("Clamp", *holding["clamp_force"]), "ClampForce")
        case "lock_and_snug":
            if before["machine"]["quill"] == "free":
                times(2, "Quill")
                at_most(draw("Quill", 1e-3, 10e-3), "QuillPlay")
            if before["machine"]["gibs"] == "loose":
                times(2, "TableX", "TableY", "TableZ")
                at_most(draw("Slides", 1e-3, 8e-3), "TablePlay")
                times(2.5, "Drag")
        case "sharp_cutter" | "stout_cutter":
            now, sharp = (setup["material"]["process_roughness"][0] for setup in (before, after))
            times(sharp / now, "ProcessRoughness")
            at_most(draw("Edge", 0.7, 1.3), "EdgeFactor")
        case "collet_chuck":
            hold_cutter()
        case "drawbar":
            times(draw("Seat", 1.5, 3.5), "Taper")
        case "reset_preload":
            kept, push = {
                "shot": ((0.6, 0.95), (2, 12)),
                "worn": ((0.25, 0.8), (10, 60)),
            }.get(before["machine"]["condition"], ((0.15, 0.6), (30, 120)))
            times(np.minimum(draw("Play", *kept), 1), "RadialPlay", "AxialPlay")
            at_least(draw("Push", *push), "PreloadForce")
        case "brace_column":
            for way in "XY":
                head, column = iron["Head" + way], iron["Column" + way]
                braced = column * draw("Brace" + way, 1.25, 2.4)
                iron["Column" + way] = braced
                times(np.sqrt((1 / column + 1 / head) / (1 / braced + 1 / head)), "Frequency" + way)
            times(draw("BraceDamping", 1.0, 1.35), "DampingX", "DampingY")
        case "same_bearings" | "angular_pair" | "tapered_rollers":
            new_bearings()
        case "another_spindle":
            new_bearings()
            hold_cutter()
            iron["Taper"] = draw("Seat", 30, 120)
    return iron
