"""Processes side by side: a crash in one spoils no other."""

import ast
import sys
import threading
from pathlib import Path

import pytest

import planner
from planner.fit.errands import Errand, function_named
from planner.fit.side_by_side import Done, SideBySide, share
from tests.fit.errands_to_try import chatting, crashing, doubled, failing, giving_no_data, sleeping

TO_TRY = (sys.executable, "-m", "tests.fit.errands_to_try")


def test_a_crash_a_fault_and_what_is_right_each_get_their_answer() -> None:
    heard: list[tuple[int, int]] = []
    tasks = [Errand("a", doubled, (1,)), Errand("b", crashing), Errand("c", failing), Errand("d", doubled, (4,))]
    with SideBySide(2, command=TO_TRY) as processes:
        found = processes.run(tasks, seconds=5, on_done=lambda n, of, _: heard.append((n, of)))
        assert [done.value for done in found] == [2, None, None, 8]
        assert "code 7" in found[1].fault
        assert found[2] == Done("c", None, "the tap is dry")
        assert heard == [(1, 4), (2, 4), (3, 4), (4, 4)]
        assert processes.run([Errand("e", doubled, (5,))], seconds=5)[0].value == 10  # they go on after a crash


def test_what_is_printed_or_no_data_is_no_answer() -> None:
    with SideBySide(1, command=TO_TRY) as processes:
        chat, none = processes.run([Errand("chat", chatting), Errand("none", giving_no_data)], seconds=5)
    assert chat == Done("chat", "done")
    assert none.value is None
    assert none.fault == "builtins.object is no plain data"


@pytest.mark.parametrize("name", ["os:system", "builtins:eval", "planner.fit.errands:os.system", "planner.fit: x"])
def test_only_functions_of_ours_are_called(name: str) -> None:
    with pytest.raises(ValueError, match="no function of ours"):
        function_named(name)


def test_no_process_of_ours_exchanges_pickles() -> None:
    """A pickle can run anything (Python's documentation says so of `pickle`, `shelve` and `marshal`)."""
    barred = {"pickle", "marshal", "shelve", "dill", "cloudpickle", "joblib", "multiprocessing"}
    files = sorted(Path(planner.__file__).parent.rglob("*.py"))
    assert len(files) > 100
    for file in files:
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            names = [a.name for a in node.names] if isinstance(node, ast.Import) else []
            names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
            names += [node.attr.partition("_")[2]] if isinstance(node, ast.Attribute) and "pickle" in node.attr else []
            assert not [name for name in names if name.split(".")[0] in barred], file


def test_stopping_ends_what_runs() -> None:
    stop = threading.Event()
    threading.Timer(0.5, stop.set).start()
    with SideBySide(1, stop, TO_TRY) as processes:
        found = processes.run([Errand("long", sleeping), Errand("never", doubled, (1,))], seconds=600)
    assert [done.fault for done in found] == ["stopped before it was done"] * 2


def test_a_budget_is_shared_by_rounds() -> None:
    assert share(60, 4, 2) == 30  # two rounds of two
    assert share(60, 5, 2) == 20  # three rounds
    assert share(60, 1, 2) == 60
