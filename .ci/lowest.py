"""Print the lowest versions that pyproject.toml allows, as constraints for pip."""

import re
import tomllib
from pathlib import Path

PROJECT = tomllib.loads(
    (Path(__file__).parents[1] / "pyproject.toml").read_text(encoding="utf-8")
)["project"]
LOWEST = re.compile(r"(?P<name>[\w.-]+)(?:\[[\w,-]+\])?>=(?P<version>[\w.]+)")


def main() -> None:
    """Print one `name==version` for each package with a lower bound."""
    extras = PROJECT["optional-dependencies"].values()
    wanted = [*PROJECT["dependencies"], *(one for extra in extras for one in extra)]
    for found in filter(None, map(LOWEST.match, wanted)):
        print(f"{found['name']}=={found['version']}")  # noqa: T201 - its output


if __name__ == "__main__":
    main()
