"""The JSON Schemas of catalogue files, for editors; made from the same tables that the loader reads by."""

from assistant.catalogue.keys import FILES, SAYS
from assistant.quantity import Kind, unit_names
from assistant.source.keys import NAME, ByName
from assistant.source.schema import Schema, schema_of_file


def catalogue_schema(file: str) -> Schema:
    """Return the schema of a file of the catalogue: `readings` for readings.yaml.

    Raises:
        KeyError: there is no such file.
    """
    schema = schema_of_file(ByName(FILES[file], NAME), f"Catalogue: {file}", SAYS[file])
    if "unit" in FILES[file].keys:
        entry = schema["additionalProperties"]
        entry["allOf"] = [*entry.get("allOf", []), *map(_units_of, Kind)]
    return schema


def _units_of(kind: Kind) -> Schema:
    """Name the units of a kind where an entry is of that kind; any other way to write one is left to the check."""
    units = {"examples": list(unit_names(kind)), "description": f"A unit of {kind.words}."}
    condition = {"properties": {"kind": {"const": kind.value}}, "required": ["kind"]}
    return {"if": condition, "then": {"properties": {"unit": units, "si_unit": units}}}
