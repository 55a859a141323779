"""Opens a backup with pyrage and prints what is inside: store_backup.py FILE (passphrase TEXT | identity TEXT)."""

import sys

import pyrage

path, kind, secret = sys.argv[1:]
with open(path, "rb") as file:
    sealed = file.read()
if kind == "passphrase":
    text = pyrage.passphrase.decrypt(sealed, secret)
else:
    text = pyrage.decrypt(sealed, [pyrage.x25519.Identity.from_str(secret)])
sys.stdout.buffer.write(text)
