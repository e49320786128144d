"""Damaged packs by the hundred: each is refused with why and nothing is written, or it means the very same."""

import random
import shutil
from pathlib import Path

import pytest
from pack_damage import Damage
from pack_workshop import JOB, JONAS, Handset

from mobileapp.packs import unpack
from mobileapp.packs.errors import (
    CannotRead,
)


def why_refused(path: Path, handset: Handset) -> str:
    """Take a pack in: the refusal in words, empty where it was accepted."""
    try:
        unpack(path, handset.journal, handset.store)
    except CannotRead as fault:
        return str(fault)
    return ""


def fuzz(pack: Path, ilse: Handset, folder: Path, seeds: range) -> dict[str, list[str]]:
    """Take in damaged packs on an empty phone and on one that holds the job; what was accepted, by way of damage."""
    accepted: dict[str, list[str]] = {"refused": []}
    made = folder / "damaged.zip"
    empty = Handset(folder / "empty", "phone-c", JONAS)
    before = {handset.device: handset.holds() for handset in (empty, ilse)}
    whole = ilse.journal.rows(JOB)
    try:
        for seed in seeds:
            way = Damage(pack, random.Random(seed)).any(made)
            for handset in (empty, ilse):
                if why := why_refused(made, handset):
                    assert len(why) > 40, way
                    accepted["refused"].append(way)
                    assert handset.holds() == before[handset.device], (way, seed)
                    continue
                assert handset.journal.rows(JOB) == whole, (way, seed)
                accepted.setdefault(way, []).append(str(seed))
                if handset is ilse:
                    assert handset.holds() == before["phone-a"], (way, seed)
                    continue
                fresh = Handset(folder / "whole", "phone-c", JONAS)
                unpack(pack, fresh.journal, fresh.store)
                assert fresh.holds()[0] == handset.holds()[0], (way, seed)
                for one in (fresh, empty):
                    one.close()
                    shutil.rmtree(one.folder)
                empty = Handset(folder / "empty", "phone-c", JONAS)
    finally:
        empty.close()
    return accepted


def test_a_hundred_damaged_packs(pack, ilse, tmp_path):
    accepted = fuzz(pack, ilse, tmp_path, range(100))
    assert len(accepted["refused"]) > 120
    assert len(set(accepted["refused"])) > 8


@pytest.mark.slow
@pytest.mark.parametrize("block", range(8))
def test_two_thousand_four_hundred_damaged_packs(pack, ilse, tmp_path, block):
    accepted = fuzz(pack, ilse, tmp_path, range(1000 + block * 300, 1000 + block * 300 + 300))
    assert len(accepted["refused"]) > 400
