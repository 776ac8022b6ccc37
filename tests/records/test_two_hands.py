"""Two people at two screens in the same moment."""

from concurrent.futures import ThreadPoolExecutor

import pytest
from django.db import connection
from tests import cast

from friable.errors import Refused
from friable.records import actions
from friable.records.models import Batch
from friable.records.queries import problems

pytestmark = pytest.mark.django_db(transaction=True)

HANDS = 4


def at_once(act):
    """Run an act in several threads, each with a connection of its own; return results and refusals."""

    def one(_number):
        try:
            return act()
        except Refused as refusal:
            return refusal
        finally:
            connection.close()

    with ThreadPoolExecutor(HANDS) as pool:
        return list(pool.map(one, range(HANDS)))


def test_each_batch_gets_a_number_of_its_own():
    version = cast.potting_on()

    batches = at_once(lambda: actions.plan_litres(version, 40, by=cast.HELPER))

    assert sorted(batch.number for batch in batches) == [1, 2, 3, 4]


def test_a_batch_is_written_down_by_one_hand_only():
    pk = cast.planned_batch().pk

    said = at_once(lambda: actions.record_batch_made(Batch.objects.get(pk=pk), by=cast.HELPER, made_l=95))

    refused = [answer for answer in said if isinstance(answer, Refused)]
    assert len(refused) == HANDS - 1
    assert all("cannot be written down as made again" in str(answer) for answer in refused)


def test_a_job_is_planned_once():
    job = cast.bench_job()

    batches = at_once(lambda: actions.plan_batch(type(job).objects.get(pk=job.pk), by=cast.HELPER))

    assert len({batch.pk for batch in batches}) == 1
    assert problems() == []


def test_a_material_is_stored_once():
    rows = at_once(lambda: actions.use_material("coir pith", by=cast.HELPER))

    assert len({row.pk for row in rows if not isinstance(row, Refused)}) == 1
