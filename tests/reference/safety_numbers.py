"""Answers for each number of the crisis directory what libphonenumber's metadata says of it. JSON in, JSON out."""
import json
import sys

import phonenumbers

question = json.load(sys.stdin)
emergency = {
    region: {number: phonenumbers.is_emergency_number(number, region) for number in numbers}
    for region, numbers in question["emergency"].items()
}
lines = []
for region, number in question["lines"]:
    parsed = phonenumbers.parse(number, region)
    valid = phonenumbers.is_valid_short_number_for_region(parsed, region) or phonenumbers.is_valid_number_for_region(parsed, region)
    lines.append([region, number, valid, phonenumbers.is_emergency_number(number, region)])
json.dump({"emergency": emergency, "lines": lines}, sys.stdout)
