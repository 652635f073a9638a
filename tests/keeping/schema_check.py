"""Holds written files to the published schema, by a library of its own.

    python schema_check.py SCHEMA FILES

FILES has one file of rigs a line (tests/keeping/file.rs writes it). Each must
be valid; each must also be valid where no body may have a member that the
schema does not name, but for those that random rigs have from "a newer page";
and each must be invalid after any of the changes below.
"""

import copy
import json
import random
import sys

from jsonschema import Draft202012Validator

OF_LATER = "of_later"


def closed(schema):
    """The same schema, with no room for a member that it does not name."""
    schema = copy.deepcopy(schema)

    def close(node):
        if isinstance(node, dict):
            if "properties" in node and node.get("type") == "object" and "additionalProperties" not in node:
                node["properties"][OF_LATER] = True
                node["additionalProperties"] = False
            for value in node.values():
                close(value)
        elif isinstance(node, list):
            for value in node:
                close(value)

    for name, of in schema["$defs"].items():
        if name not in ("rig", "record"):
            close(of)
    return schema


def breaks(file, rng):
    """Files that are none, each with what was done to it."""
    rig = rng.randrange(len(file["rigs"]))

    def changed(what, change):
        other = copy.deepcopy(file)
        change(other["rigs"][rig], other)
        return what, other

    def own(rig):
        return rig["axles"]["body"]

    yield changed("no version", lambda rig, file: file.pop("tyreside"))
    yield changed("a newer version", lambda rig, file: file.update(tyreside=2))
    yield changed("no rigs", lambda rig, file: file.pop("rigs"))
    yield changed("rigs by name", lambda rig, file: file.update(rigs={"a": rig}))
    yield changed("no own section", lambda rig, file: rig.pop("axles"))
    yield changed("a section without a name", lambda rig, file: rig.update({"": "x"}))
    yield changed("a section that is a list", lambda rig, file: rig.update(nuts=[1]))
    yield changed("a checksum too short", lambda rig, file: rig["axles"].update(crc32="abc"))
    yield changed("a checksum in capitals", lambda rig, file: rig["axles"].update(crc32="ABCDEF01"))
    yield changed("version 0", lambda rig, file: rig["axles"].update(version=0))
    yield changed("more in an envelope", lambda rig, file: rig["axles"].update(more=1))
    yield changed("no axles", lambda rig, file: own(rig).update(axles=[]))
    yield changed("a pressure in kg", lambda rig, file: own(rig).update(floor="100 kg"))
    yield changed("a pressure without a unit", lambda rig, file: own(rig).update(floor="100"))
    yield changed("a number for a pressure", lambda rig, file: own(rig).update(floor=100))
    yield changed("a surface of no name", lambda rig, file: own(rig).update(surface="ice"))
    yield changed("a flag in words", lambda rig, file: own(rig).update(demo="yes"))
    yield changed("four axles in a group", lambda rig, file: own(rig)["axles"][0].update(axles=4))
    yield changed("markup for a tyre", lambda rig, file: own(rig)["axles"][0].update(tyre={"b": 1}))
    for part in ("nuts", "air", "tools", "leaks", "set_to", "footprint", "weights", "tickets", "copies"):
        if isinstance(file["rigs"][rig].get(part), dict):
            yield changed(f"{part} without a body", lambda rig, file: rig[part].pop("body"))
    if isinstance(file["rigs"][rig].get("nuts"), dict):
        yield changed("a thread of no name", lambda rig, file: rig["nuts"]["body"]["vehicle"].update(thread="m13"))
    if isinstance(file["rigs"][rig].get("copies"), dict):
        yield changed("a sum in words", lambda rig, file: rig["copies"]["body"].update(seen=[{"part": "a", "sums": ["x"]}]))


def main(schema_path, files_path):
    with open(schema_path, encoding="utf-8") as source:
        schema = json.load(source)
    Draft202012Validator.check_schema(schema)
    open_, strict = Draft202012Validator(schema), Draft202012Validator(closed(schema))
    rng = random.Random(7)
    files, broken, kinds = 0, 0, set()
    with open(files_path, encoding="utf-8") as source:
        for line in source:
            file = json.loads(line)
            for validator in (open_, strict):
                error = next(validator.iter_errors(file), None)
                if error is not None:
                    best = sorted(error.context or [error], key=lambda e: -len(e.absolute_path))[0]
                    sys.exit(f"not valid: {list(best.absolute_path)}: {best.message[:400]}")
            files += 1
            if files % 4:
                continue
            for what, other in breaks(file, rng):
                if open_.is_valid(other):
                    sys.exit(f"valid with {what}")
                broken += 1
                kinds.add(what)
    print(f"{files} files valid, {broken} broken ones in {len(kinds)} ways refused")
    if files < 100 or len(kinds) < 25:
        sys.exit("too few were tried")


if __name__ == "__main__":
    main(*sys.argv[1:])
