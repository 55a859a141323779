"""Reads a calendar file twice, with icalendar and with vobject, and writes what each found as JSON."""

import json
import sys

import icalendar
import vobject

text = open(sys.argv[1], newline="").read()


def by_icalendar():
    found = []
    for event in icalendar.Calendar.from_ical(text).walk("VEVENT"):
        alarms = [str(alarm["TRIGGER"].dt) for alarm in event.walk("VALARM")]
        found.append({
            "uid": str(event["UID"]),
            "summary": str(event["SUMMARY"]),
            "start": event.decoded("DTSTART").isoformat(),
            "end": event.decoded("DTEND").isoformat(),
            "class": str(event["CLASS"]),
            "alarms": alarms,
        })
    return found


def by_vobject():
    found = []
    for event in vobject.readOne(text).vevent_list:
        alarms = [str(alarm.trigger.value) for alarm in getattr(event, "valarm_list", [])]
        found.append({
            "uid": event.uid.value,
            "summary": event.summary.value,
            "start": event.dtstart.value.isoformat(),
            "end": event.dtend.value.isoformat(),
            "class": event.getChildValue("class"),
            "alarms": alarms,
        })
    return found


json.dump({"icalendar": by_icalendar(), "vobject": by_vobject()}, sys.stdout)
