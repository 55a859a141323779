"""Writes the table of emergency numbers by region from libphonenumber's short-number metadata (PyPI phonenumbers).

Run it by hand when the metadata moves on; the test `safety_directory` holds the table against the live metadata.
"""
import itertools
import sys

import phonenumbers
from phonenumbers import shortnumberinfo


def is_emergency(number, region):
    return phonenumbers.is_emergency_number(number, region)


def numbers(region):
    """Every number of two to five digits that the metadata calls an emergency number, exactly."""
    metadata = phonenumbers.PhoneMetadata.short_metadata_for_region(region)
    if metadata is None or metadata.emergency is None or metadata.emergency.national_number_pattern is None:
        return []
    import re

    pattern = re.compile(metadata.emergency.national_number_pattern)
    found = []
    for length in metadata.emergency.possible_length or (3,):
        if length > 5:
            continue
        for digits in itertools.product("0123456789", repeat=length):
            number = "".join(digits)
            if pattern.fullmatch(number) and is_emergency(number, region):
                found.append(number)
    return found


def first(found):
    """112 last, so that the region's own number is met first."""
    return sorted(found, key=lambda number: (number == "112", len(number), number))


out = ["# Emergency numbers by region, from libphonenumber's short-number metadata (PyPI phonenumbers " + phonenumbers.__version__ + ").",
       "# Written by tests/reference/safety_emergency_table.py; checked live in the tests.", "[numbers]"]
for region in sorted(phonenumbers.SUPPORTED_SHORT_REGIONS):
    found = first(numbers(region))
    if found:
        out.append(f"{region} = [" + ", ".join(f'"{n}"' for n in found[:6]) + "]")
sys.stdout.write("\n".join(out) + "\n")
