"""Prints the thousand commonest first names of each list in the `names` package (US census 1990), one a line."""
import importlib.metadata

for file in importlib.metadata.files("names"):
    if file.name.startswith("dist.") and file.name.endswith(".first"):
        for row in file.locate().read_text(encoding="ascii").splitlines()[:1000]:
            print(row.split()[0].capitalize())
