"""The tables of a logbook, version by version. A step once released is never changed; a new one is added below it.

What the journals tell stands in `flight`, whole as one value beside what is searched for, and can be made anew from
them; tags and names stand in tables of their own, by journal, and outlive that.
"""

STEPS: tuple[str, ...] = (
    """
    CREATE TABLE flight (
        journal TEXT PRIMARY KEY, begun TEXT NOT NULL, deck TEXT NOT NULL, scenario TEXT NOT NULL, summary BLOB NOT NULL
    ) WITHOUT ROWID;
    CREATE TABLE tag (journal TEXT NOT NULL, tag TEXT NOT NULL, PRIMARY KEY (journal, tag)) WITHOUT ROWID;
    """,
    """
    CREATE TABLE person (
        journal TEXT NOT NULL, seat TEXT NOT NULL, name TEXT NOT NULL, PRIMARY KEY (journal, seat)
    ) WITHOUT ROWID;
    CREATE INDEX flight_begun ON flight (begun);
    """,
)
