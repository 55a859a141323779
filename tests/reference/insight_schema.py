"""Checks JSON documents against a JSON Schema (draft 2020-12): reads {"schema": ..., "documents": [...]}, answers with
the list of complaints for each document."""

import json
import sys

import jsonschema

asked = json.load(sys.stdin)
jsonschema.Draft202012Validator.check_schema(asked["schema"])
validator = jsonschema.Draft202012Validator(asked["schema"])
complaints = [[error.message for error in validator.iter_errors(document)] for document in asked["documents"]]
json.dump(complaints, sys.stdout)
