"""The practice system as a heat pump in heating: rating, balances by CoolProp, weather, and faults of a heat pump."""

from functools import cache

import pytest

from assistant.errors import InputError, OutOfRangeError
from assistant.quantity import fahrenheit
from assistant.simulator.compressor import SHELL_LOSS
from assistant.simulator.faults import FAULTS, with_severity
from assistant.simulator.plant import DeviceKind, Mode, size_plant
from assistant.simulator.readings import KINDS, tons_of
from assistant.simulator.solve import sound_plant
from assistant.simulator.system import System, Wish, practice_system
from assistant.simulator.vapour import modelled_designations
from assistant.thermo import reference

DEVICES: tuple[DeviceKind, ...] = ("txv", "fixed_orifice")
FAHRENHEIT = 1.8


@cache
def heat_pump(
    refrigerant: str, device: DeviceKind, *faults: tuple[str, float], outdoor: float = 47.0, mode: Mode = "heating"
) -> System:
    """A solved heat pump, air in °F."""
    dry, wet = (70.0, 60.0) if mode == "heating" else (80.0, 67.0)
    return practice_system(
        Wish(
            refrigerant,
            3.0,
            device,
            fahrenheit(outdoor),
            fahrenheit(dry),
            fahrenheit(wet),
            faults=tuple(with_severity(FAULTS[name], severity) for name, severity in faults),
            mode=mode,
            heat_pump=True,
        )
    )


# ---------------------------------------------------------------- rating and weather


@pytest.mark.parametrize("device", DEVICES)
@pytest.mark.parametrize("name", modelled_designations())
def test_the_rating_in_heating_is_that_of_a_usual_heat_pump(name: str, device: DeviceKind) -> None:
    """At 47 °F outdoors and 70 °F indoors it gives about its tons, and its temperatures are the usual ones.

    AHRI 210/240 point H1, from memory. What is usual: common practice, no source. Heat 0.95 to 1.15 of the net cooling,
    coefficient of performance 3.0 to 3.8, boiling 10 to 20 °F below the outdoor air, condensing 30 to 45 °F above the
    return air, a rise of the air near 28 °F.
    """
    found = heat_pump(name, device)
    truth, readings = found.truth, found.readings
    assert 0.95 < tons_of(truth.net_heating) / 3.0 < 1.15
    assert 3.0 < truth.net_heating / truth.total_power < 3.8
    assert 10.0 < (readings["outdoor_air_temperature"] - truth.evaporating_temperature) * FAHRENHEIT < 20.0
    assert 30.0 < (truth.condensing_temperature - readings["return_air_dry_bulb"]) * FAHRENHEIT < 45.0
    assert (readings["supply_air_dry_bulb"] - readings["return_air_dry_bulb"]) * FAHRENHEIT == pytest.approx(28, abs=4)
    assert 8.0 < truth.superheat * FAHRENHEIT < 14.0
    assert 8.0 < truth.subcooling * FAHRENHEIT < 14.0


@pytest.mark.parametrize("device", DEVICES)
@pytest.mark.parametrize("name", modelled_designations())
def test_both_modes_have_one_charge(name: str, device: DeviceKind) -> None:
    """In heating the machine holds what cooling wants; a part of it waits in the vessel on the liquid line."""
    cooling, _ = sound_plant(name, 3.0, device, "cooling", heat_pump=True)
    heating, circuit = sound_plant(name, 3.0, device, "heating", heat_pump=True)
    assert heating.charge == cooling.charge
    assert circuit.held == pytest.approx(heating.charge, rel=1e-5)
    assert 0.0 < heating.stored < 0.25 * heating.charge


@pytest.mark.parametrize("name", modelled_designations())
def test_heat_falls_with_the_cold(name: str) -> None:
    """In the cold the outdoor coil boils colder and less gas is moved: heat, efficiency and rise of the air fall.

    At 17 °F a heat pump gives 0.55 to 0.75 of its heat at 47 °F (common practice, no source).
    """
    weather = [heat_pump(name, "txv", outdoor=outdoor).truth for outdoor in (17.0, 30.0, 47.0, 60.0)]
    heats = [truth.net_heating for truth in weather]
    assert heats == sorted(heats)
    performance = [truth.net_heating / truth.total_power for truth in weather]
    assert performance == sorted(performance)
    assert 0.55 < heats[0] / heats[2] < 0.75


@pytest.mark.parametrize("fault", [(), (("undercharge", 0.1),), (("dirty_outdoor_coil", 0.4),)], ids=str)
@pytest.mark.parametrize("name", modelled_designations())
def test_energy_closes_in_heating_by_the_equation_of_state(name: str, fault: tuple[tuple[str, float], ...]) -> None:
    """With enthalpies from CoolProp both coils and the compressor balance within 1 %."""
    found = heat_pump(name, "txv", *fault)
    circuit, readings = found.circuit, found.readings
    model = found.plant.fluid.curves.refrigerant.model_name
    outlet = reference.vapour_state(model, circuit.coil_outlet, readings["evaporator_outlet_temperature"])
    suction = reference.vapour_state(model, circuit.suction_pressure, readings["suction_line_temperature"])
    discharge = reference.vapour_state(model, circuit.discharge_pressure, readings["discharge_line_temperature"])
    liquid = reference.liquid_state(model, circuit.liquid_pressure, readings["liquid_line_temperature"])
    assert circuit.metered.flow == pytest.approx(circuit.flow, rel=1e-4)
    work = circuit.flow * (discharge.enthalpy - suction.enthalpy)
    assert circuit.compressed.power * (1.0 - SHELL_LOSS) == pytest.approx(work, rel=0.01)
    if found.truth.subcooling > 1.0:
        taken = circuit.flow * (outlet.enthalpy - liquid.enthalpy)
        assert circuit.evaporated.heat == pytest.approx(taken, rel=0.01)
        leaving = reference.liquid_state(
            model, circuit.condensing_pressure, readings["idle_device_inlet_temperature"]
        ).enthalpy
        given = circuit.flow * (discharge.enthalpy - leaving)
        lost = circuit.flow * (circuit.compressed.enthalpy - circuit.cooled_gas)
        assert circuit.condensed.heat + lost == pytest.approx(given, rel=0.01)


def test_the_air_takes_up_what_the_condenser_gives() -> None:
    """The rise of the supply air is the condenser's heat and that of the blower."""
    found = heat_pump("R-410A", "txv")
    rise = found.readings["supply_air_dry_bulb"] - found.readings["return_air_dry_bulb"]
    assert rise * found.circuit.indoor_air * 1006.0 == pytest.approx(found.truth.net_heating, rel=1e-6)


# ---------------------------------------------------------------- readings


def test_a_heat_pump_is_read_at_its_reversing_valve_and_idle_device() -> None:
    """Four readings more than an air conditioner gives, and in heating no air behind a condenser outdoors."""
    four = {name for name in KINDS if name.startswith(("reversing_valve_", "idle_device_"))}
    assert len(four) == 4
    plain = practice_system(Wish("R-22", 2.0, "txv", fahrenheit(90.0), fahrenheit(78.0), fahrenheit(65.0)))
    assert four & set(plain.readings) == set()
    assert set(heat_pump("R-22", "txv", outdoor=90.0, mode="cooling").readings) == set(plain.readings) | four
    heating = set(heat_pump("R-22", "txv").readings)
    assert set(plain.readings) - heating == {"condenser_leaving_air_temperature"}


@pytest.mark.parametrize("mode", ["cooling", "heating"])
@pytest.mark.parametrize("name", modelled_designations())
def test_a_sound_reversing_valve_warms_the_suction_a_little(name: str, mode: Mode) -> None:
    """By 1 to 5 °F (common practice, no source), and the idle device lets the liquid pass as warm as it comes."""
    readings = heat_pump(name, "txv", outdoor=95.0 if mode == "cooling" else 47.0, mode=mode).readings
    gain = readings["reversing_valve_suction_out"] - readings["reversing_valve_suction_in"]
    assert 1.0 < gain * FAHRENHEIT < 5.0
    assert readings["idle_device_inlet_temperature"] == readings["idle_device_outlet_temperature"]


# ---------------------------------------------------------------- faults


@pytest.mark.parametrize("name", modelled_designations())
def test_a_leaking_reversing_valve_warms_the_suction_and_slackens_both_pressures(name: str) -> None:
    """Hot gas that goes in a ring: suction up, head and heat down, a gain beyond 5 °F (common practice, no source)."""
    sound, found = heat_pump(name, "txv"), heat_pump(name, "txv", ("reversing_valve_leaking", 0.12))
    gain = found.readings["reversing_valve_suction_out"] - found.readings["reversing_valve_suction_in"]
    assert gain * FAHRENHEIT > 5.0
    assert found.truth.evaporating_temperature > sound.truth.evaporating_temperature + 0.5
    assert found.truth.condensing_temperature < sound.truth.condensing_temperature - 1.0
    assert found.truth.net_heating < sound.truth.net_heating * 0.95


def test_wet_suction_hides_a_leaking_reversing_valve() -> None:
    """Where liquid comes back the hot gas boils it first, and the pipe does not warm."""
    readings = heat_pump(
        "R-410A", "fixed_orifice", ("reversing_valve_leaking", 0.12), ("orifice_too_large", 0.3)
    ).readings
    assert readings["reversing_valve_suction_out"] - readings["reversing_valve_suction_in"] < 0.2


@pytest.mark.parametrize("device", DEVICES)
@pytest.mark.parametrize("mode", ["cooling", "heating"])
def test_liquid_gets_round_the_device_through_a_leaking_check_valve(mode: Mode, device: DeviceKind) -> None:
    """Superheat goes in the mode in which the check valve should be shut; a valve makes up for a small leak."""
    outdoor = 95.0 if mode == "cooling" else 47.0
    sound = heat_pump("R-410A", device, outdoor=outdoor, mode=mode).truth
    small = heat_pump("R-410A", device, ("check_valve_leaking", 0.3), outdoor=outdoor, mode=mode).truth
    large = heat_pump("R-410A", device, ("check_valve_leaking", 1.1), outdoor=outdoor, mode=mode).truth
    assert large.evaporator_superheat < 0.1
    assert large.subcooling < sound.subcooling
    if device == "txv":
        assert small.opening < sound.opening
        assert small.evaporator_superheat > 0.8 * sound.evaporator_superheat


@pytest.mark.parametrize("mode", ["cooling", "heating"])
def test_a_check_valve_that_hangs_shut_cools_the_liquid_at_the_idle_device(mode: Mode) -> None:
    """The liquid boils in its loss; the port behind it reads little subcooling though the coil behind is starved."""
    outdoor = 95.0 if mode == "cooling" else 47.0
    sound = heat_pump("R-410A", "txv", outdoor=outdoor, mode=mode)
    found = heat_pump("R-410A", "txv", ("check_valve_shut", 0.6), outdoor=outdoor, mode=mode)
    fall = found.readings["idle_device_inlet_temperature"] - found.readings["idle_device_outlet_temperature"]
    assert fall * FAHRENHEIT > 3.0
    assert found.truth.subcooling < 2.0 / FAHRENHEIT
    assert found.truth.superheat > sound.truth.superheat + 2.0


# ---------------------------------------------------------------- what there is not


def test_only_a_heat_pump_has_its_faults() -> None:
    """A fault of a heat pump makes the system one; a plant that is none refuses it."""
    from assistant.simulator.faults import with_faults

    leaking = with_severity(FAULTS["reversing_valve_leaking"], 0.1)
    cooling = Wish("R-22", 3.0, "txv", fahrenheit(95.0), fahrenheit(80.0), fahrenheit(67.0), faults=(leaking,))
    assert cooling.is_heat_pump
    assert practice_system(cooling).plant.heat_pump
    with pytest.raises(InputError, match="heat pump"):
        with_faults(size_plant("R-22", 3.0, "txv"), [leaking])


def test_weather_outside_heating_is_refused() -> None:
    """A heat pump is not heated with in summer, and not below what the tables hold."""
    for outdoor in (95.0, -20.0):
        with pytest.raises(OutOfRangeError, match="outdoor air"):
            heat_pump("R-410A", "txv", outdoor=outdoor)
