"""Four phones on one session send the same entries and their own, at once, to one site (test_backup.py)."""

from __future__ import annotations

import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from speedloom.store.data_folder import DataFolder
from speedloom.web.settings import SiteOptions
from speedloom.web.site import start

PHONES, SENDS = 4, 12


def main(folder: DataFolder) -> None:
    """Send from every phone, then say how many entries are there and how many are there once."""
    start(SiteOptions(folder))
    from django.db import connection

    from invented_entries import entry
    from invented_squads import PROGRAMME
    from speedloom.store import logs, people

    keeper = people.keeper()
    if keeper is None:
        raise SystemExit("no squad in this folder")
    squad = keeper.memberships[0].squad

    def phone(number: int) -> int:
        confirmed = 0
        for send in range(SENDS):
            both = [entry(send), entry(1000 * (number + 1) + send, "noa")]
            confirmed += len(logs.append(keeper, squad, PROGRAMME, both).confirmed)
        connection.close()
        return confirmed

    with ThreadPoolExecutor(PHONES) as phones:
        confirmed = sum(phones.map(phone, range(PHONES)))
    ids = [one.id for one in logs.log(keeper, squad, PROGRAMME).entries]
    sys.stdout.write(f"{confirmed} confirmed, {len(ids)} stored, {len(set(ids))} different\n")


if __name__ == "__main__":
    main(DataFolder(Path(sys.argv[1])))
