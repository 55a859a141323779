"""Reads {"schema": ..., "scripts": [...]}; writes, for each script, what jsonschema finds amiss in it, or null."""

import json
import sys

import jsonschema

given = json.load(sys.stdin)
jsonschema.Draft202012Validator.check_schema(given["schema"])
validator = jsonschema.Draft202012Validator(given["schema"])
faults = [jsonschema.exceptions.best_match(validator.iter_errors(script)) for script in given["scripts"]]
json.dump([fault and fault.message for fault in faults], sys.stdout)
