-- Words of everything, found by any of their beginnings. Filled and kept by the program, since the file has no triggers.
-- rowid: twice the item's id, or twice the pass's id and one.
CREATE VIRTUAL TABLE search USING fts5 (
    id UNINDEXED,
    title,
    body,
    tokenize = 'unicode61 remove_diacritics 2',
    prefix = '2 3'
);
