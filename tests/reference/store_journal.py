"""Reads a store's journal from its described form alone, with argon2-cffi and PyNaCl (libsodium), sharing no code with the
program: store_journal.py DIRECTORY PASSPHRASE. Prints the events as JSON, one a line."""

import struct
import sys
import zlib

import argon2.low_level as argon2
from nacl.bindings import crypto_aead_xchacha20poly1305_ietf_decrypt as open_sealed

directory, passphrase = sys.argv[1:]
keys = open(f"{directory}/keys", "rb").read()
assert keys[:8] == b"WAYFOLDK" and zlib.crc32(keys[:-4]) == int.from_bytes(keys[-4:], "big")
version, lock, memory, passes, lanes, generation = struct.unpack(">HBIIII", keys[8:27])
salt, store, nonce, wrapped = keys[27:43], keys[43:59], keys[91:115], keys[115:163]
assert version == 1 and lock == 1 and len(keys) == 167
key = argon2.hash_secret_raw(passphrase.encode(), salt, passes, memory, lanes, 32, argon2.Type.ID)
data = open_sealed(wrapped, keys[:91], nonce, key)

journal = open(f"{directory}/journal", "rb").read()
assert journal[:8] == b"WAYFOLDJ" and journal[10:26] == store
at, number, before = 30, 0, bytes(16)
while any(journal[at : at + 8]):
    length = int.from_bytes(journal[at + 8 : at + 12], "big")
    end = at + 12 + length
    assert zlib.crc32(journal[at:end]) == int.from_bytes(journal[end : end + 4], "big")
    record_at = at + 12
    while record_at < end:
        size = int.from_bytes(journal[record_at : record_at + 4], "big")
        record = journal[record_at + 4 : record_at + 4 + size]
        assert int.from_bytes(record[:8], "big") == number and record[12:28] == before
        bound = b"wayfold record 1" + store + record[:28]
        text = open_sealed(record[52:], bound, record[28:52], data)
        assert text[0] == 0 and len(text) % 64 == 0
        sys.stdout.buffer.write(text[1:].rstrip(b" ") + b"\n")
        number, before, record_at = number + 1, record[-16:], record_at + 4 + size
    at = end + 4
