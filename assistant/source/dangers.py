"""What can hurt someone, as it is said in everyday words: what guards it, which act it is, and what is never done.

This is part of the program and not of a catalogue, so that no folder can thin it. Names of acts and cautions are those
of the shipped catalogue; a test holds that they are there. Source: common safety practice; what cautions name.
"""

from typing import Final

from assistant.source.deeds import Deed, Finder

_HANDLE: Final = (
    "put, take, get, give, make, fix, use, lay, push, pull, force, move, bring, join, slip, slide, tie, hang, "
    "fit, set up, wrap, pack, stuff, plug, poke, press, squeeze, hook, clip, drive, hammer, knock, bend, tape, "
    "glue, wedge, block, prop, jam, work, route, feed, lean, attach, fasten, strap, wind, weigh down, pinch, "
    "trick, loosen, undo, connect, link, tighten, leave, unplug, short, join up"
)
"""What hands do to a thing, whatever it is."""
_NAMED_CONTROLS: Final = (
    "pressure switch, door switch, limit switch, cutout, cut out switch, float, float switch, limit, limits, "
    "interlock, protector, overload, fuse link, pressure control, pressure controls, low pressure control, "
    "high pressure control, freeze stat, freezestat, freeze switch, water sensor, drain sensor, safety, safeties, "
    "rollout, thermal, fusible link"
)
"""Safety controls by names that mean nothing else, in whatever is done to them."""
_CONTROLS: Final = f"switch, leak detector, detector, {_NAMED_CONTROLS}"
_WHY_CONTROLS: Final = "a safety control that is open is believed until its pressure, water or heat is known"

DEEDS: Final = (
    Deed(
        "control_defeated",
        verbs="bridge, jump, short, link, jumper, jump out, bypass, defeat, disable, override, tape, wedge, tie, "
        "zip tie, loop, loop out, wire around, wire across, short out, twist, clip a jumper, block, fool, "
        "cheat, rig, prop, file, pin, glue",
        things=_CONTROLS,
        never=_WHY_CONTROLS,
    ),
    Deed(
        "control_handled",
        verbs=f"{_HANDLE}, "
        "solder, stick, keep, trip in, run without, run the unit without, run it without, go without, cover, "
        "fill",
        things=_NAMED_CONTROLS,
        unless="maker's, replace, new, thermostat, float up, of its maker, out of the sun, start switch, leak "
        "detector made, search, take the reading, thermal camera, reading, water in",
        never=_WHY_CONTROLS,
    ),
    Deed(
        "control_held",
        verbs="hold, stick, use, push, press, keep, put, jam, lodge",
        things=_CONTROLS,
        along="in with, in by, matchstick, match, paper clip, clip, closed, stays up, down, screwdriver, made, "
        "tape, wire, toothpick, magnet, stick",
        unless="thermostat, float up, start switch",
        never=_WHY_CONTROLS,
    ),
    Deed(
        "control_taken_out",
        verbs="take, leave, cut, unwire, lift, remove, bring",
        things=_CONTROLS,
        along="out of the circuit, out of circuit, out of the loop, out of it, out for",
        never=_WHY_CONTROLS,
    ),
    Deed(
        "control_moved",
        verbs="turn, set, raise, screw, crank, adjust",
        things="cutout, pressure switch, limit, high pressure control, high pressure switch, float switch",
        along="until it, stops tripping, out of the way, higher, up",
        never=_WHY_CONTROLS,
    ),
    Deed(
        "contactor_forced",
        verbs="hold, push, press, wedge, jam, force, prop, tie, zip tie, block, close, pull, tape, stick, get, "
        "give, make, help, move, fasten",
        things="relay, contactor, armature, plunger",
        along="in, down, shut, closed, armature, by hand, stick, screwdriver, rod, pencil, tool, finger, to close, "
        "a push, handle, hammer, plunger, press on, arm, tape, into the, against the",
        unless="by a call, pulls in",
        never="a contactor or relay is moved by its coil alone; nobody's hand or tool is near live contacts",
    ),
    Deed(
        "wire_around",
        verbs="put, run, connect, clip, jump, jumper, hook, lay, twist, bridge",
        things="r to y, wire from r, r and y, r with y, jumper across, jumper over, jumper from",
        never="a wire from R to Y starts the unit past all that may hold it; the call comes from the thermostat",
    ),
    Deed(
        "fuse_enlarged",
        verbs="put, fit, install, use, swap, wrap, replace, change, wind, lay, exchange",
        things="bigger fuse, larger fuse, stronger fuse, bigger breaker, larger breaker, heavier fuse, next size "
        "fuse, foil, piece of copper, copper wire, nail, breaker for a, breaker with a, fuse for a bigger, "
        "fuse around",
        along="fuse, breaker",
        unless="of the size, of the same",
        never="fuse and breaker are those of the data plate; a larger one lets the wire burn",
    ),
    Deed(
        "relief_capped",
        verbs=f"{_HANDLE}, cap, close, shut, screw, weld, stop, seal, remove, thread, cover, solder",
        things="relief valve, relief port, relief, pressure relief",
        never="a relief valve stays as it is: it is all that keeps a cylinder or a shell from bursting",
    ),
    Deed(
        "oxygen",
        unless="monitor, sensor, breathe, breath, pushes, push, displaces, explode, explodes",
        nouns="oxygen, acetylene, compressed air, shop air, workshop air, air hose, air from the compressor, air "
        "compressor",
        never="oxygen and compressed air explode with oil, acetylene by itself; dry nitrogen alone, through its "
        "regulator",
    ),
    Deed(
        "vented",
        verbs="vent, vent what, bleed, bleed off, purge, blow, blow off, blow out, dump, dump out, release, drain, "
        "let off",
        things="charge, refrigerant, gas, freon, rest of the gas, liquid off, is in the hoses, is in it, the unit",
        unless="nitrogen, recovery, cylinder, gas furnace, gas valve",
        never="refrigerant is never let out (40 CFR 82.154(a)); write: do: recover_charge",
    ),
    Deed(
        "emptied_outdoors",
        verbs=f"{_HANDLE}, empty, let, open, point, run, blast, drain, vent, lose, pour, purge, get rid",
        along="into the yard, into the air, to atmosphere, to the atmosphere, outdoors into, into the garden, in "
        "the wind, outside air, into the drain, to the sky, into the open, stops blowing, whistle, whistles, "
        "hisses out, to open air",
        unless="condensate, water, dryer, fan blows, return",
        never="refrigerant is never let out (40 CFR 82.154(a)); write: do: recover_charge",
    ),
    Deed(
        "blown_out",
        verbs="blast, blow, chase, drive, push, sweep, force",
        things="charge, refrigerant, gas, freon",
        along="out with, nitrogen, old charge out",
        never="refrigerant is never let out (40 CFR 82.154(a)); write: do: recover_charge",
    ),
    Deed(
        "let_out",
        verbs="let, allow, open, crack",
        things="gas, charge, refrigerant, freon, valve, king valve, port, some out, a little out, it out",
        along="gas out, gas go, charge out, charge go, out of the hose, to the air, to atmosphere, outdoors, "
        "escape, hiss, let it blow, head drops, head is down, for ten seconds, for a second, rest of the gas "
        "go, refrigerant out, refrigerant go",
        unless="settle, even out, water, registers",
        never="refrigerant is never let out (40 CFR 82.154(a)); write: do: recover_charge",
    ),
    Deed(
        "let_out_at_core",
        verbs="depress, press, push, poke, loosen, crack, undo, open",
        things="core, schrader, valve core, flare, flare nut, fitting, pin, union",
        along="gas, hiss, hisses, pressure is gone, pressure, refrigerant, down, gone, empty, out",
        unless="recovered, nitrogen",
        never="no joint or core is opened to let gas out (40 CFR 82.154(a)); write: do: recover_charge",
    ),
    Deed(
        "capacitor_shorted",
        verbs=f"{_HANDLE}, short, short out, discharge, bridge, jump",
        things="capacitor, capacitor's posts, capacitors, cap",
        along="screwdriver, wrench, pliers, blade, tool, wire, short, knife, metal",
        unless="resistor",
        never="a capacitor is discharged through a resistor made for it; write: do: discharge_capacitor",
    ),
    Deed(
        "no_regulator",
        verbs="turn, open, put, connect, feed, let, run, hook, use, take, purge, blow",
        things="nitrogen",
        along="without a regulator, without regulator, without the regulator, straight in, no regulator, straight from",
        never="a full cylinder has more than 2,000 psi; nitrogen comes through its regulator",
    ),
    Deed(
        "disposable_refilled",
        verbs=f"{_HANDLE}, refill, fill, pump, store, recover, save, blow, pour",
        things="throwaway cylinder, throw away cylinder, empty cylinder, disposable, disposable cylinder, disposable "
        "tank, old jug, jug, throwaway, one way cylinder, empty can, to the brim, brim, right up, to the top, "
        "completely full",
        along="cylinder, tank, jug, bottle, can, disposable",
        never="a disposable cylinder is never refilled, and none is filled beyond 80 % of its liquid (49 CFR "
        "173.304a, 178.65)",
    ),
    Deed(
        "cylinder_heated",
        verbs=f"{_HANDLE}, warm, heat, set, hold, run, stand, roll, leave",
        things="cylinder, tank, jug, bottle",
        along="flame, torch, stove, heat gun, burner, hot plate, fire, heater, exhaust, boiling, boiling water, hot "
        "water, in the sun, radiator, oven",
        never="a cylinder is warmed with water below 125 F, never with a flame or a heater",
    ),
    Deed(
        "voltage_in_vacuum",
        verbs="start, start it, energize, energise, megger, run, power, turn on, switch on, test, measure, ohm, "
        "give it power, power it, bump, kick",
        along="vacuum and, in vacuum, in a vacuum, in the vacuum, under vacuum, while it is in a vacuum, into a "
        "vacuum, vacuum pump is on, vacuum pump runs",
        unless="start the vacuum pump, pressure",
        never="thin gas conducts: windings arc in a vacuum; first the refrigerant, or nitrogen to the atmosphere",
    ),
    Deed(
        "reset_again",
        verbs="reset, keep resetting, flip, flip back, turn, switch, push, try, close, throw",
        things="breaker, again, breaker back",
        along="again if, until it holds, until it stays, again and again, over and over, a few times, several "
        "times, keep resetting, repeatedly, once more, as often as",
        unless="measured dead",
        never="one reset, after every load on that circuit was measured dead (29 CFR 1910.334(b)(2)); write: do: "
        "reset_once",
    ),
    Deed(
        "past_guard",
        verbs=f"{_HANDLE}, reach, stick",
        things="between the blades, past the fan guard, past the guard, fan guard, through the guard, through the "
        "grille, into the blower wheel, grille, behind the guard, into the fan",
        along="hand, fingers, arm, reach, stick, rod, screwdriver, finger",
        unless="probe into the air",
        acts=("lock_out", "open_panel"),
        never="nothing is reached past a fan's guard; write: do: [lock_out, clean_blower], and it stands still",
    ),
    Deed(
        "touched_while_running",
        verbs="pull, touch, feel, wash, spray, reach, unplug, hose, hose down, rinse, oil, clean, disconnect, "
        "wiggle, move",
        along="while it runs, while it hums, while it is running, while running, with the power on, with power on, "
        "belt running, with it running, while the fan turns, while it turns",
        unless="air, suction line, vents, pipe",
        never="what is live or moves is not touched; write: do: lock_out in front of it",
    ),
    Deed(
        "smelled",
        verbs="sniff, smell, taste, lick",
        things="oil, refrigerant, gas",
        unless="leave at once, out at once",
        never="oil of a burnt-out compressor is poisonous: no smell or taste to find out; write: do: test_oil",
    ),
    Deed(
        "guard_talked_away",
        verbs="skip, omit, leave out, do without, nobody has to, no need, not need, nobody has, not have, never "
        "mind, forget, save yourself, spare yourself, without",
        things="lockout, lock out, lock it out, locking it out, locking out, lock and tag, gloves, glasses, the "
        "lock, to lock, to discharge, caution, to recover, the tag, to prove",
        unless="shorts, while anybody, where",
        never="what guards a step is not talked away; take the sentence out",
    ),
    Deed(
        "guard_belittled",
        verbs="leave the gloves off, leave your gloves off, leave off the gloves",
        along="gloves off, off the gloves, can wait, are for beginners, is for beginners, waste of time, optional, "
        "unnecessary, not needed, only slows, is overdone, not worth, later, takes too long, nobody uses, "
        "stay in the truck",
        unless="afterwards",
        nouns="lockout, lock, tag, gloves, glasses, regulator, caution, safety glasses, meter",
        never="what guards a step is not talked away; take the sentence out",
    ),
    Deed(
        "panel",
        verbs=f"{_HANDLE}, "
        "open, remove, take off, unscrew, look, have a look, see, peek, get, pop, pop off, pull, pull off, "
        "lift, lift off, drop, undo, reach behind, look behind",
        things="service panel, behind the cover, behind the panel, panel, panels, cover, electrical cover, terminal "
        "cover, disconnect box, electrical box, control box, access door, top off, lid, cover plate, top of "
        "the unit, service door, blower door",
        unless="pool, battery, filter, vent, register, registers, window, note, notes, look at the panel, look at "
        "the cover, missing, shrubs, panels on, see that, back on, solar",
        acts=("lock_out", "look_inside"),
        cautions=("live_panels",),
    ),
    Deed(
        "live_voltage",
        verbs="measure, check, test, probe, see, read, look for, meter, find, put, how many, how much, get, is "
        "there, are there, what",
        things="voltage, volt, volts, v, 240, 230, 208, l1, compressor's terminals, leg to leg, line side, amps at "
        "the contactor",
        unless="plate, label, thermostat, dead, locked, battery, absence",
        acts=("read_voltage", "trace_supply", "trace_call"),
        cautions=("live_measurement", "live_panels"),
    ),
    Deed(
        "current",
        verbs="measure, check, read, clamp, take, put, get, how many, how much",
        things="amp clamp, amps, amperage, amp draw",
        unless="plate, label",
        acts=("read_current",),
        cautions=("live_measurement", "live_panels"),
    ),
    Deed(
        "windings",
        verbs="ohm, ohm out, ring, ring out, megger, meg, measure, check, test",
        things="winding, windings, resistance, to ground, compressor out, insulation",
        unless="pipe insulation, line, insulation of, air",
        acts=("measure_windings", "measure_loads_dead"),
        cautions=("live_panels", "compressor_terminals", "line_side_live"),
    ),
    Deed(
        "capacitor",
        verbs=f"{_HANDLE}, check, test, measure, discharge, replace, change, touch, swap, remove, exchange, lift out",
        things="capacitor, run cap, start cap",
        acts=("discharge_capacitor", "replace_capacitor"),
        cautions=("capacitor",),
    ),
    Deed(
        "wires",
        verbs=f"{_HANDLE}, "
        "hold, touch, feel, wiggle, connect, disconnect, lift, unplug, wire, swap, tighten, twist, pull off, "
        "unscrew, reach",
        things="common, load side, screw of the, wire, lead, terminal, terminals, line side, contacts, spade, lugs, "
        "wiring",
        unless="air away, test lead away, clamp lead, thermometer, sensor",
        acts=("lock_out", "mend_wiring"),
        cautions=("live_panels", "line_side_live"),
    ),
    Deed(
        "moving",
        verbs="turn, spin, clean, brush, reach, put, stick, touch, feel, stop, push, grease, oil, help, slip, give, "
        "poke, nudge",
        things="fan with, fan a push, fan wheel, fan blade, fan by hand, blade, blower wheel, wheel, condenser fan, "
        "belt, bearing, fan motor, into the blower, hand into, hand in the fan, fan shaft",
        unless="pressure, static",
        acts=("lock_out", "clean_blower", "mend_fan"),
        cautions=("moving_parts", "live_panels"),
    ),
    Deed(
        "charge_added",
        verbs="add, weigh in, charge, top up, fill, put in, dump in, feed, throttle, put, give it, pour, let, "
        "squirt, bring, blow in, give",
        things="liquid in, little liquid, refrigerant, gas, pound, pounds, ounce, ounces, freon, some charge, more "
        "charge, charge to it, liquid into, half a pound, oz, lb",
        unless="nitrogen, bulb",
        acts=("add_some", "weigh_in"),
        cautions=("hoses_and_liquid", "refrigerant_release"),
    ),
    Deed(
        "topped_up",
        verbs="weigh two pounds in, weigh a pound in, weigh the rest in, fill it up, fill up until, top it up, top "
        "it off, top up, top off, gas it up, weigh in, weigh it in, charge it",
        acts=("add_some", "weigh_in"),
        cautions=("hoses_and_liquid", "refrigerant_release"),
    ),
    Deed(
        "recovered",
        verbs="recover, remove, take, draw, reclaim, pull, suck, get, get rid of, empty, drain, lose, lower, reduce",
        things="charge, refrigerant, what is left, gas, freon, rest of it",
        along="recover, recovery, out, remove, what is left, draw, reclaim, suck, pull, off, get rid, empty, drain, "
        "reduce, lower",
        unless="find out, temperature, sample, lost, filter",
        acts=("recover_charge", "take_some"),
        cautions=("refrigerant_release", "opening_circuit"),
    ),
    Deed(
        "joint_opened",
        verbs="crack, loosen, undo, open, unscrew, break",
        things="flare, flare nut, fitting, union, joint, core, circuit, schrader, sealed system, liquid line, "
        "suction line",
        unless="breaker, bare",
        acts=("recover_charge",),
        cautions=("opening_circuit",),
    ),
    Deed(
        "pumped_down",
        verbs="pump it down, pump down, pump the system down, pump the unit down, pump out",
        unless="vacuum pump, vacuum gauge, tools",
        acts=("pump_down_test",),
        cautions=("hoses_and_liquid", "opening_circuit"),
    ),
    Deed(
        "evacuated",
        verbs=f"{_HANDLE}, draw, evacuate, pull down, run, let, bring, hold, run down, pump",
        things="vacuum, micron, microns, system, circuit",
        along="vacuum, micron, microns, evacuate",
        unless="vacuum cleaner",
        acts=("evacuate",),
        cautions=("opening_circuit", "vacuum_no_voltage"),
    ),
    Deed(
        "evacuated_it",
        verbs="evacuate, evacuate it",
        acts=("evacuate",),
        cautions=("opening_circuit", "vacuum_no_voltage"),
    ),
    Deed(
        "brazed",
        verbs="braze, unsweat, solder, weld, silver solder",
        acts=("braze_joint",),
        cautions=("brazing",),
    ),
    Deed(
        "flame",
        verbs=f"{_HANDLE}, sweat, sweat out, heat, run, hold, warm, light, melt",
        things="burner, old solder, torch, flame, drier, joint, heat gun, valve body, blowtorch, propane torch, solder",
        along="sweat, torch, flame, heat, blowtorch, heat gun, burner to, melt",
        acts=("braze_joint", "warm_valve_body"),
        cautions=("brazing", "floodback"),
    ),
    Deed(
        "cut_open",
        verbs="cut, cut out, saw, saw out, snip, hacksaw, chop, shorten, lengthen, trim",
        things="line, pipe, tube, tubing, drier, compressor, joint, valve, copper, capillary, coil out",
        unless="out on, cut out of, cutout",
        acts=("recover_charge", "replace_drier"),
        cautions=("opening_circuit",),
    ),
    Deed(
        "part_replaced",
        verbs="replace, change, swap, take out, change out, swap out, pull, exchange, renew, fit a new, install",
        things="expansion valve, txv, metering device, drier, filter drier, compressor, orifice, piston, reversing "
        "valve, check valve, valve core",
        unless="lead, capacitor, price, cost, quote, time",
        acts=("recover_charge", "replace_valve", "replace_drier"),
        cautions=("opening_circuit", "refrigerant_release"),
    ),
    Deed(
        "pressurised",
        verbs=f"{_HANDLE}, "
        "pressurize, pressurise, pressure test, fill, turn, blow, run, load, leak test, open, let, raise",
        things="nitrogen, psi and, to 100 psi, to 150 psi, to 200 psi, to 250 psi, to 300 psi, to 350 psi, to 400 "
        "psi, to 450 psi, to 500 psi, psi on, pounds of nitrogen, with nitrogen, system with",
        acts=("pressure_test",),
        cautions=("pressure_test",),
    ),
    Deed(
        "hot",
        verbs="touch, feel, grab, hold, clamp, palm, put a finger, put your hand, put a hand, finger",
        things="discharge line, hot gas line, compressor, shell, dome, discharge pipe",
        unless="clamp at, current",
        acts=("cool_down", "reset_clamps"),
        cautions=("hot_surfaces",),
    ),
    Deed(
        "gauges",
        verbs="put, connect, hook, hook up, attach, screw, hang, fit, take, remove, disconnect",
        things="gauge, gauges, manifold, hose, hoses",
        unless="water hose, garden hose, filter gauge, static, air hose, magnehelic, read, drain hose",
        acts=("hoses_on", "hoses_off"),
        cautions=("hoses_and_liquid",),
    ),
    Deed(
        "washed",
        verbs="clean, clean off, wash it down, hose it down, wash it, hose it, wash, wash down, hose, hose down, "
        "rinse, flush, spray, squirt, soak, pour, pressure wash",
        things="coil, unit, condenser, fins, outdoor unit, evaporator, hose it, wash it, without switching",
        unless="line set, drain, nitrogen, wet bulb, filter",
        acts=("wash_outdoor_coil", "wash_indoor_coil"),
        cautions=("washing",),
    ),
    Deed(
        "bulb_held",
        verbs=f"{_HANDLE}, hold, warm, heat, grip",
        things="bulb",
        along="hand, palm, fist, warm, heat, grip, fingers",
        unless="wet bulb, dry bulb, light bulb",
        acts=("warm_bulb",),
        cautions=("floodback",),
    ),
    Deed(
        "bulb_iced",
        verbs=f"{_HANDLE}, hold, chill, cool, dip, ice, dunk, drop, sink",
        things="bulb",
        along="ice, iced, ice water, chill, snow, cold water",
        unless="wet bulb, dry bulb, light bulb",
        acts=("chill_bulb",),
        cautions=("chilled_bulb",),
    ),
    Deed(
        "high_up",
        verbs="climb, go, go up, get up, step, walk, get, have a look, look",
        things="onto the roof, on the roof, roof by, roof without, roof and, top of the house, ladder, up the roof, "
        "from its edge",
        unless="customer, sun",
        acts=("clear_surroundings",),
        cautions=("roof_and_ladder",),
    ),
    Deed(
        "attic",
        verbs="crawl, climb, go up, squeeze, go, creep, slide, get",
        things="between the joists, attic, crawl space, into the attic",
        acts=("mend_ducts",),
        cautions=("heat_stress", "footing", "confined_space"),
    ),
    Deed(
        "breaker",
        verbs="reset, flip, turn, switch, push, throw, close, try, put",
        things="breaker, main switch, main back, main on, power back, disconnect",
        unless="off, on the panel",
        acts=("reset_once", "power_back"),
        cautions=("power_returns",),
    ),
    Deed(
        "fuse",
        verbs="replace, change, fit, install, put, swap, use, exchange, take",
        things="fuse, a breaker, amp breaker, a breaker in, a fuse",
        unless="of the size of, blown fuses",
        acts=("replace_fuse",),
        cautions=("line_side_live", "live_panels"),
    ),
    Deed(
        "jumper",
        verbs="bridge, jumper, bypass, jump out, jump",
        acts=("force_defrost",),
        cautions=("live_measurement", "live_panels", "safety_controls"),
    ),
)
DANGERS: Final = Finder(DEEDS)
"""Finds all of them in a text."""
