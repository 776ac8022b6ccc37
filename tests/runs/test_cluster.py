"""The same season on a Dask cluster that the test starts on this machine."""

import os
import signal
import time
from functools import partial

import pytest
from distributed import LocalCluster
from tests.bucket import bucket, slow_bucket
from tests.runs.small_season import small_plan
from tests.runs.test_season_run import assert_same

from friable.errors import Refused
from friable.planning.season import block_work, run_block, summary
from friable.runs import executors, progress
from friable.runs.executors import cluster
from friable.runs.season_run import keep_plan, run_season


@pytest.fixture(scope="module")
def two_workers():
    os.environ["BUCKET_SECONDS"] = "0.3"
    with LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, host="127.0.0.1", dashboard_address=None
    ) as started:
        yield started
    del os.environ["BUCKET_SECONDS"]


@pytest.fixture
def season(tmp_path):
    plan = small_plan()
    keep_plan(tmp_path, plan)
    return tmp_path, summary(plan, (run_block(block_work(plan, n), bucket) for n in range(plan.blocks)))


def test_two_workers_of_a_cluster_give_the_same_numbers(two_workers, season):
    folder, expected = season

    answer = run_season(folder, partial(cluster, two_workers.scheduler_address), solve=bucket)

    assert_same(answer, expected)


def test_a_killed_worker_of_a_cluster_costs_its_own_block(two_workers, season):
    folder, expected = season
    killed = []

    def kill_once(told):
        if told.done >= 2 and not killed:
            worker = next(iter(two_workers.workers.values()))
            killed.append(worker.pid)
            os.kill(worker.pid, signal.SIGKILL)

    answer = run_season(
        folder, partial(cluster, two_workers.scheduler_address), solve=slow_bucket, told=kill_once
    )

    assert killed
    assert_same(answer, expected)


def test_a_run_on_a_cluster_stops_when_it_is_asked_to(two_workers, season):
    folder, expected = season

    def stop(told):
        if told.done >= 1:
            progress.ask_to_stop(folder)

    began = time.monotonic()
    assert (
        run_season(folder, partial(cluster, two_workers.scheduler_address), solve=slow_bucket, told=stop)
        is None
    )
    assert time.monotonic() - began < 20
    assert progress.read_progress(folder).state == "stopped"
    assert_same(run_season(folder, partial(cluster, two_workers.scheduler_address), solve=bucket), expected)


def test_an_address_where_nothing_answers_is_said_in_one_sentence(monkeypatch):
    monkeypatch.setattr(executors, "WAIT_FOR_CLUSTER_S", 1)
    for address in ("tcp://127.0.0.1:9", "nonsense://", "127.0.0.1"):
        with pytest.raises(Refused, match="No cluster answers at"), cluster(address):
            pass


def test_without_the_part_for_clusters_it_says_what_to_install(monkeypatch):
    monkeypatch.setitem(__import__("sys").modules, "distributed", None)
    with pytest.raises(Refused, match=r"pip install distributed"), cluster("tcp://127.0.0.1:8786"):
        pass
