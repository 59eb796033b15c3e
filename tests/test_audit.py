"""The audit of what we depend on says when it could not look, and that counts as not checked."""

import importlib.util
from types import ModuleType
from typing import Any

import pytest

from tests.architecture import ROOT


@pytest.fixture
def audit() -> ModuleType:
    spec = importlib.util.spec_from_file_location("audit", ROOT / ".ci" / "audit.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


SOUND: dict[str, Any] = {"name": "one", "version": "1", "vulns": []}
FAULTY: dict[str, Any] = {"name": "two", "version": "2", "vulns": [{"id": "X-1", "fix_versions": ["3"]}]}
UNKNOWN: dict[str, Any] = {"name": "three", "skip_reason": "not on the list"}


@pytest.mark.parametrize(
    ("dependencies", "code"),
    [([SOUND], 0), ([SOUND, FAULTY], 1), ([FAULTY, UNKNOWN], 1), ([SOUND, UNKNOWN], 2), ([UNKNOWN], 2), ([], 2)],
)
def test_what_was_not_looked_at_has_not_passed(audit: ModuleType, dependencies: list[Any], code: int) -> None:
    assert audit.tell(dependencies) == code


def test_where_it_cannot_be_installed_that_is_said(
    audit: ModuleType, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(audit.sys, "executable", "/bin/false")
    assert audit.main() == 2
    assert "NOT CHECKED" in capsys.readouterr().out


def test_the_run_shows_it_as_not_checked() -> None:
    """The lines of the run that tell the three ends apart, run on their own."""
    import subprocess

    text = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    case = text[text.index("case $? in") : text.index("esac") + len("esac")]
    end = text[text.rindex("echo\n[ ") :]
    for code, shown, ends in ((0, "All passed.", 0), (2, "Not checked: audit", 0), (1, "Failed: audit", 1)):
        script = f"failed=(); unchecked=(); (exit {code})\n{case}\n{end}"
        done = subprocess.run(["bash", "-c", script], capture_output=True, text=True, check=False)
        assert shown in done.stdout
        assert done.returncode == ends
        assert ("All passed." in done.stdout) is (code == 0)
