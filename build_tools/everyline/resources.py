"""Where the site's templates, styles and script are found, installed or in a checkout."""

from importlib.resources import files
from importlib.resources.abc import Traversable
from pathlib import Path


def site_source() -> Traversable:
    """The `site_src` folder: inside the package when everyline came as a wheel, else beside `build_tools` in the checkout.

    Raises FileNotFoundError where neither is there, which only a broken installation can bring about.
    """
    packaged = files("everyline") / "site_src"
    if packaged.is_dir():
        return packaged
    checkout = Path(__file__).resolve().parents[2] / "site_src"
    if checkout.is_dir():
        return checkout
    raise FileNotFoundError("everyline was installed without its site_src folder: install it again")
