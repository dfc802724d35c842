"""The session schema against real sheets: what it must accept, what it must refuse, and that it says what each field is.

Usage: schema_test.py SOURCE_DIR. Exit 0 when all holds; every failure is printed.
"""
import copy
import glob
import json
import os
import sys

import jsonschema


def read(path):
    with open(path, encoding="utf-8") as file:
        return json.load(file)


def patched(document, change):
    """RFC 6902, as far as the cases use it: add (replacing what a member was) and remove."""
    document = copy.deepcopy(document)
    for step in change:
        *way, last = [key.replace("~1", "/").replace("~0", "~") for key in step["path"].split("/")[1:]]
        at = document
        for key in way:
            at = at[int(key) if isinstance(at, list) else key]
        if isinstance(at, list):
            if step["op"] == "add":
                at.insert(int(last), step["value"])
            else:
                del at[int(last)]
        elif step["op"] == "add":
            at[last] = step["value"]
        else:
            del at[last]
    return document


def fields(schema, path=""):
    """Every field that the schema declares, as (path, its schema)."""
    for name, inner in schema.get("properties", {}).items():
        if isinstance(inner, dict):
            yield f"{path}.{name}", inner
            yield from fields(inner, f"{path}.{name}")
    for inner in schema.get("anyOf", []):
        yield from fields(inner, path)
    if isinstance(schema.get("items"), dict):
        yield from fields(schema["items"], path)


def used(value, path=""):
    """Every field that a sheet uses, by the same paths."""
    if isinstance(value, dict):
        for key, inner in value.items():
            yield f"{path}.{key}"
            yield from used(inner, f"{path}.{key}")
    elif isinstance(value, list):
        for inner in value:
            yield from used(inner, path)


def main(source):
    failures = []
    schema = read(f"{source}/schema/steelyard-session-1.schema.json")
    jsonschema.Draft7Validator.check_schema(schema)
    validator = jsonschema.Draft7Validator(schema)
    cases = f"{source}/tests/sheet/cases"
    whole, every = read(f"{cases}/whole.json"), read(f"{cases}/every_field.json")

    for path in [f"{cases}/whole.json", f"{cases}/every_field.json", *sorted(glob.glob(f"{source}/sample_data/*.json"))]:
        sheet = read(path)
        if isinstance(sheet, dict) and sheet.get("format") == "steelyard-session/1":
            failures += [f"{os.path.basename(path)} is refused at {list(error.absolute_path)}: {error.message[:200]}"
                         for error in validator.iter_errors(sheet)]

    for case in read(f"{cases}/wrong.json"):
        accepts = validator.is_valid(patched(whole, case["change"]))
        if accepts != (case["schema"] == "accepts"):
            failures.append(f"case \"{case['what']}\": the schema {'accepts' if accepts else 'refuses'} it")

    declared = dict(fields(schema))
    failures += [f"{path} has no description" for path, inner in declared.items() if not inner.get("description")]
    failures += [f"{path} is in the schema but in no case sheet"
                 for path in sorted(set(declared) - set(used(whole)) - set(used(every)))]

    for failure in failures:
        print(failure)
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
