-- How many schedules the search behind a plan was told to build at most. It sets the pace of the search, so that a plan
-- can be made again only with the same one. Null: as many as the time allowed.
alter table plan add column budget bigint;
