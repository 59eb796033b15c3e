"""Processes side by side: a crash in one spoils no other."""

import os
import threading
import time

from planner.fit.side_by_side import Done, Errand, SideBySide, share


def doubled(number: int) -> int:
    return 2 * number


def crashing() -> None:
    os._exit(7)


def failing() -> None:
    raise ValueError("the tap is dry")


def sleeping() -> None:
    time.sleep(600)


def test_a_crash_a_fault_and_what_is_right_each_get_their_answer() -> None:
    heard: list[tuple[int, int]] = []
    tasks = [Errand("a", doubled, (1,)), Errand("b", crashing), Errand("c", failing), Errand("d", doubled, (4,))]
    with SideBySide(2) as processes:
        found = processes.run(tasks, seconds=5, on_done=lambda n, of, _: heard.append((n, of)))
        assert [done.value for done in found] == [2, None, None, 8]
        assert "code 7" in found[1].fault
        assert found[2] == Done("c", None, "the tap is dry")
        assert heard == [(1, 4), (2, 4), (3, 4), (4, 4)]
        assert processes.run([Errand("e", doubled, (5,))], seconds=5)[0].value == 10  # they go on after a crash


def test_stopping_ends_what_runs() -> None:
    stop = threading.Event()
    threading.Timer(0.5, stop.set).start()
    with SideBySide(1, stop) as processes:
        found = processes.run([Errand("long", sleeping), Errand("never", doubled, (1,))], seconds=600)
    assert [done.fault for done in found] == ["stopped before it was done"] * 2


def test_a_budget_is_shared_by_rounds() -> None:
    assert share(60, 4, 2) == 30  # two rounds of two
    assert share(60, 5, 2) == 20  # three rounds
    assert share(60, 1, 2) == 60
