"""Makes an age identity with pyrage and prints it, then its recipient."""

import pyrage

identity = pyrage.x25519.Identity.generate()
print(identity)
print(identity.to_public())
