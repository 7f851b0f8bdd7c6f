"""The equations of state behind the curves: reachable where the library's own start values fail, and consistent."""

import json
import math
import sys
from concurrent.futures import ThreadPoolExecutor

import pytest

from assistant.errors import OutOfRangeError, PhysicsError
from assistant.thermo import circuit, fit, reference
from assistant.thermo.curves import saturation
from assistant.thermo.refrigerants import DATA, all_refrigerants, find_refrigerant, load_curves
from tests.thermo import coolprop as library
from tests.thermo.units import PSI, fahrenheit

EVERY = all_refrigerants()
each = pytest.mark.parametrize("refrigerant", EVERY, ids=str)


@each
@pytest.mark.parametrize("phase", ["bubble", "dew"])
def test_curves_follow_the_library_where_it_converges(refrigerant, phase):
    """Wherever the library solves saturation by itself, the shipped curve is within 0.005 °F and 0.01 % of it."""
    curves, handle = saturation(refrigerant), library.AbstractState("HEOS", refrigerant.model_name)
    solved = 0
    for k in range(24):
        span = curves.maximum_temperature - 15 - curves.minimum_temperature
        t = curves.minimum_temperature + 1 + span * k / 23
        try:
            handle.update(library.QT_INPUTS, 0.0 if phase == "bubble" else 1.0, t)
        except ValueError:
            continue
        solved += 1
        side = "liquid" if phase == "bubble" else "vapour"
        assert getattr(curves, f"{phase}_temperature")(handle.p()) == pytest.approx(t, abs=0.005 / 1.8)
        assert getattr(curves, f"{phase}_pressure")(t) == pytest.approx(handle.p(), rel=1e-6)
        assert getattr(curves, f"{side}_density")(t) == pytest.approx(handle.rhomass(), rel=1e-5)
    assert solved >= 18


@each
def test_latent_heat_is_the_librarys(refrigerant):
    """Vapour minus liquid enthalpy of the curves is that of the library within 1 J/kg, at -20, 5 and 25 °C."""
    curves, handle = saturation(refrigerant), library.AbstractState("HEOS", refrigerant.model_name)
    for t in (253.15, 278.15, 298.15):
        handle.update(library.QT_INPUTS, 0.0, t)
        liquid = handle.hmass()
        handle.update(library.QT_INPUTS, 1.0, t)
        assert curves.vapour_enthalpy(t) - curves.liquid_enthalpy(t) == pytest.approx(handle.hmass() - liquid, abs=1.0)


@pytest.mark.parametrize("gauge", [480, 490, 505, 560, 617])
def test_followed_where_the_library_gives_up(gauge):
    """R-454B from 480 to 617 psia: the followed bubble point is a true equilibrium, its pressure the same both ways."""
    point = reference.saturation_at_pressure("R454B.mix", gauge * PSI, "bubble")
    assert point.pressure == pytest.approx(gauge * PSI, rel=1e-9)
    again = reference.saturation_at_temperature("R454B.mix", point.temperature, "bubble")
    assert again.density == pytest.approx(point.density, rel=1e-6)
    assert saturation("R-454B").bubble_temperature(gauge * PSI) == pytest.approx(point.temperature, abs=1e-6)


def test_a_followed_point_is_an_equilibrium():
    """At a followed point liquid and vapour have the same fugacity of each component: nothing wants to move."""
    t = fahrenheit(150)
    point = reference.saturation_at_temperature("R454B.mix", t, "bubble")
    liquid, vapour = (library.AbstractState("HEOS", "R32&R1234yf") for _ in range(2))
    handle, move = reference._curve("R454B.mix", "bubble")
    move(t)
    for side, fractions, density in (
        (liquid, handle.mole_fractions_liquid(), handle.saturated_liquid_keyed_output(library.iDmolar)),
        (vapour, handle.mole_fractions_vapor(), handle.saturated_vapor_keyed_output(library.iDmolar)),
    ):
        side.set_mole_fractions(list(fractions))
        side.specify_phase(library.iphase_gas if side is vapour else library.iphase_liquid)
        side.update(library.DmolarT_INPUTS, density, t)
        assert side.p() == pytest.approx(point.pressure, rel=1e-6)
    for component in (0, 1):
        assert liquid.fugacity(component) == pytest.approx(vapour.fugacity(component), rel=1e-6)


@pytest.mark.parametrize("name", ["R-22", "R-410A", "R-454B", "R-407C"])
def test_superheated_states_join_the_curves(name):
    """Vapour a hair above dew has the enthalpy and density of the dew curve."""
    curves, model = saturation(name), find_refrigerant(name).model_name
    t = fahrenheit(45)
    p = curves.dew_pressure(t)
    near = reference.vapour_state(model, p, t + 1e-4)
    assert near.enthalpy == pytest.approx(curves.vapour_enthalpy(t), abs=5.0)
    assert near.density == pytest.approx(curves.vapour_density(t), rel=1e-4)


@pytest.mark.parametrize("name", ["R-22", "R-410A", "R-454B"])
def test_subcooled_liquid_is_near_saturated_liquid(name):
    """Liquid 10 °F below bubble has within 0.5 kJ/kg the enthalpy of saturated liquid at its own temperature."""
    curves, model = saturation(name), find_refrigerant(name).model_name
    state = reference.liquid_state(model, curves.bubble_pressure(fahrenheit(110)), fahrenheit(100))
    assert state.enthalpy == pytest.approx(curves.liquid_enthalpy(fahrenheit(100)), abs=500)


@each
def test_subcooled_liquid_hardly_changes_flash_gas(refrigerant):
    """Taking subcooled liquid as saturated moves the flash gas by less than 0.006, by 0.02 on carbon dioxide."""
    curves = saturation(refrigerant)
    low = curves.dew_pressure(fahrenheit(40))
    liquid = curves.liquid_enthalpy(curves.bubble_temperature(low))
    latent = curves.vapour_enthalpy(fahrenheit(40)) - liquid
    for condensing in (fahrenheit(90), min(fahrenheit(130), curves.maximum_temperature - 5)):
        if condensing >= curves.maximum_temperature - 4:
            continue
        for subcooling in (2.0, 10.0, 20.0):
            t = condensing - subcooling
            state = reference.liquid_state(refrigerant.model_name, curves.bubble_pressure(condensing), t)
            exact = (state.enthalpy - liquid) / latent
            bound = 0.02 if refrigerant.designation == "R-744" else 0.006
            assert circuit.flash_gas_fraction(curves, t, low) == pytest.approx(exact, abs=bound)


@pytest.mark.parametrize("name", ["R-410A", "R-407C", "R-404A", "R-507A"])
@pytest.mark.parametrize("phase", ["bubble", "dew"])
def test_pseudo_pure_and_mixture_tell_the_same(name, phase):
    """The pseudo-pure equation of a blend and the mixture model of it agree within 0.02 °F and 0.05 % of density."""
    curves = saturation(name)
    side = "liquid" if phase == "bubble" else "vapour"
    for degrees in (-40, 0, 40, 80, 120):
        t = fahrenheit(degrees)
        other = reference.saturation_at_temperature(curves.refrigerant.model_name + ".mix", t, phase)
        assert getattr(curves, f"{phase}_temperature")(other.pressure) == pytest.approx(t, abs=0.02 / 1.8)
        assert getattr(curves, f"{side}_density")(t) == pytest.approx(other.density, rel=5e-4)


def test_threads_do_not_disturb_each_other():
    """Two threads that ask about different states at once, switched as often as can be, both get their own answers."""

    def work(temperature):
        return {reference.vapour_state("R454B.mix", 8e5, temperature).enthalpy for _ in range(1500)}

    before = sys.getswitchinterval()
    sys.setswitchinterval(1e-6)
    try:
        with ThreadPoolExecutor(2) as pool:
            first, second = pool.map(work, (300.0, 340.0))
    finally:
        sys.setswitchinterval(before)
    assert len(first) == len(second) == 1
    assert max(first) < min(second)


@each
def test_one_reference_state(refrigerant):
    """Bubble liquid at 0 °C has 200 kJ/kg and 1 kJ/(kg·K) in every equation of state."""
    state = reference.saturation_at_temperature(refrigerant.model_name, 273.15, "bubble")
    assert state.enthalpy == pytest.approx(200e3, abs=0.01)
    assert state.entropy == pytest.approx(1000.0, abs=1e-4)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, -1.0, 0.0, 1e308])
def test_hostile_numbers_are_refused(value):
    """No equation is asked about an impossible pressure or temperature."""
    for call in (
        lambda: reference.saturation_at_temperature("R454B.mix", value, "dew"),
        lambda: reference.saturation_at_pressure("R454B.mix", value, "dew"),
        lambda: reference.vapour_state("R410A", value, 300.0),
        lambda: reference.vapour_state("R410A", 1e6, value),
        lambda: reference.liquid_state("R410A", 1e6, value),
    ):
        with pytest.raises(OutOfRangeError):
            call()


def test_unknown_model_is_refused():
    """A model that the library lacks, or lacks interaction parameters for, is an error with a reason."""
    for model in ("R438A.mix", "R999"):
        with pytest.raises(PhysicsError, match="no equation of state"):
            reference.derive_constants(model)


@pytest.mark.parametrize("name", ["R-438A", "R-424A", "R-453A", "R-468A"])
def test_unmodelled_refrigerants_really_have_no_model(name):
    """What is listed as not modelled cannot be built by the library: the list holds no lazy refusals."""
    with pytest.raises(ValueError, match=r"binary pair|not found"):
        library.AbstractState("HEOS", name.replace("-", "") + ".mix")


@pytest.mark.parametrize("refrigerant", [r for r in EVERY if r.model_kind == "mixture"], ids=str)
def test_every_pair_of_a_mixture_has_published_parameters(refrigerant):
    """No interaction parameter of a mixture is an estimate: each pair names a publication."""
    names = library.AbstractState("HEOS", refrigerant.model_name).fluid_names()
    numbers = [library.get_fluid_param_string(name, "CAS") for name in names]
    for i, first in enumerate(numbers):
        for second in numbers[:i]:
            sources = []
            for pair in ((first, second), (second, first)):
                try:
                    sources.append(library.get_mixture_binary_pair_data(*pair, "BibTeX"))
                except ValueError:
                    continue
            assert any(source.startswith(("Bell", "Lemmon", "Kunz")) for source in sources)


@pytest.mark.parametrize("name", ["R-22", "R-410A", "R-454B", "R-407A"])
def test_shipped_curves_are_the_derived_ones(name):
    """Fitting again gives the shipped coefficients, for one refrigerant of each kind of model."""
    refrigerant = find_refrigerant(name)
    entry = fit.fit_refrigerant(refrigerant.model_name, refrigerant.model_kind)
    assert fit.largest_difference(entry, load_curves()[name]) <= fit.TOLERANCE


def test_a_changed_curve_is_noticed():
    """The comparison of the fit sees a shifted coefficient, another range and a missing curve."""
    shipped = load_curves()["R-22"]
    shifted = {**shipped, "dew_pressure": [shipped["dew_pressure"][0] + 1e-4, *shipped["dew_pressure"][1:]]}
    assert fit.largest_difference(shipped, shipped) == 0.0
    assert fit.largest_difference(shipped, shifted) == pytest.approx(1e-4)
    assert fit.largest_difference(shipped, {**shipped, "maximum_temperature": 360.0}) == math.inf
    assert fit.largest_difference(shipped, {}) == math.inf


def test_data_file_is_written_as_it_is_read():
    """The text form of the data file is stable: what was read is written back byte for byte."""
    text = (DATA / "curves.json").read_text(encoding="utf-8")
    assert fit.as_text(json.loads(text)) == text
