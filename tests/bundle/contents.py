"""What goes into the built program, and what stays out: plain lists, with the reason beside each."""

from importlib import import_module
from pathlib import Path
from pkgutil import walk_packages

ROOT = Path(__file__).parent.parent.parent

LEFT_OUT_MODULES = (
    # Nothing of ours draws with these; PyInstaller's hooks would bring them for "whoever may want them".
    "tkinter",
    "matplotlib",
    "IPython",
    "pytest",
    "hypothesis",
    "setuptools",
    "pip",
    "pandas.tests",
    "numpy.tests",
    "numpy.f2py",
    "pyarrow",
    "scipy",
    "sqlalchemy",
    "openpyxl",
    "lxml",
    "mypy",
    "ast_serialize",
    # Nothing here speaks to a network, and hashlib knows its own way without OpenSSL.
    "_ssl",
    "_hashlib",
    "readline",
    # rich colours source code with these, which nobody prints here.
    "pygments",
    "markdown_it",
    "mdurl",
    "pydantic.mypy",
    # Of Pillow, which reportlab asks for, the plain core: the sheets hold no photographs.
    "PIL.AvifImagePlugin",
    "PIL._avif",
    "PIL._webp",
    "PIL._imagingcms",
    "PIL._imagingft",
    "PIL._imagingtk",
    "PIL.ImageQt",
    # Of OR-Tools only CP-SAT is used.
    "ortools.constraint_solver",
    "ortools.graph",
    "ortools.linear_solver",
    "ortools.math_opt",
    "ortools.pdlp",
    "ortools.set_cover",
    # Of Qt: core, gui, widgets, print and svg; pages of a PDF are drawn by pypdfium2.
    "PySide6.QtQml",
    "PySide6.QtQuick",
    "PySide6.QtNetwork",
    "PySide6.QtDesigner",
    "PySide6.QtTest",
    "PySide6.QtOpenGL",
    "PySide6.QtSql",
)
"""Python modules that are never bundled."""

LEFT_OUT_FILES = (
    "*/Qt/plugins/platformthemes/libqgtk3*",
    "*/Qt/translations/*",  # the window speaks English, and so should the dialogs of Qt in it
    "*/Qt/plugins/platforminputcontexts/*",
    "*/Qt/plugins/tls/*",
    "*/Qt/plugins/networkinformation/*",
    "*/Qt/plugins/generic/*",
    "*/Qt/plugins/egldeviceintegrations/*",
    "*/Qt/plugins/platforms/libqeglfs*",
    "*/Qt/plugins/platforms/libqlinuxfb*",
    "*/Qt/plugins/platforms/libqvkkhrdisplay*",
    "*/Qt/plugins/platforms/libqvnc*",
    "*/Qt/plugins/imageformats/*tiff*",
    "*/Qt/plugins/imageformats/*webp*",
    "*/Qt/plugins/imageformats/*icns*",
    "*/Qt/plugins/imageformats/*tga*",
    "*/Qt/plugins/imageformats/*wbmp*",
    "*/Qt/plugins/imageformats/*pdf*",
    "*libQt6Qml*",
    "*libQt6Quick*",
    "*libQt6VirtualKeyboard*",
    "*libQt6Network*",
    "*libQt6OpenGL.*",
    "*libQt6Test*",
    "*libQt6WaylandEgl*",
    "*libQt6EglF*",
    # What a look of another toolkit would need, which is left out above.
    "*/libgtk-3*",
    "*/libgdk*",
    "*/libcairo*",
    "*/libpango*",
    "*/libatk*",
    "*/libgio-2*",
    "*/libpixman*",
    "*/libthai*",
    "*/libdatrie*",
    "*/libharfbuzz.so*",
    "*/libgraphite2*",
    "*/libmount*",
    "*/libblkid*",
    # The bus of the desktop is the system's own: where there is one, so are these.
    "*/libdbus-1*",
    "*/libsystemd*",
    "*/libgcrypt*",
    "*/libgpg-error*",
    "*/libcap.so*",
    "*/liblz4.so*",
    "*/libcrypto*",
    "*/libssl*",
    # Printing asks the system's own CUPS, which is there where a printer is; a copy of ours would only grow old.
    "*/libcups*",
    "*/libavahi*",
    "*/libgnutls*",
    "*/libp11-kit*",
    "*/libhogweed*",
    "*/libnettle*",
    "*/libtasn1*",
    "*/libidn2*",
    "*/libunistring*",
    "*/libgssapi*",
    "*/libkrb5*",
    "*/libk5crypto*",
    "*/libkeyutils*",
    "*/libcom_err*",
    # What only such libraries, or readers of pictures that are left out, would have asked for.
    "*/libgmp*",
    "*/libselinux*",
    "*/libgobject*",
    "*/libgmodule*",
    "*/libfribidi*",
    "/libjpeg.so*",
    "*/pandas/tests/*",
    "*/numpy/*/tests/*",
    "*/reportlab/fonts/*",
    "*/reportlab/graphics/*.gif",
    "*/pygments/lexers/*",
    "*/tzdata/zoneinfo/right/*",
)
"""Files of libraries that nothing of ours opens, by their path inside the bundle (shell patterns)."""


def our_modules() -> list[str]:
    """Every module of the project: commands and processes are imported by name, which no build tool can see."""
    package = import_module("planner")
    return ["planner", *(found.name for found in walk_packages(package.__path__, "planner."))]


def shipped_data() -> list[tuple[str, str]]:
    """(file or folder, folder inside the bundle) of all data, where `planner.resources` looks for it."""
    return [
        (str(ROOT / "resources"), "planner/_resources"),
        (str(ROOT / "sample_days"), "sample_days"),
    ]
