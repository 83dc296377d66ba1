-- How a plan was made that no search has made: the way out of a slip that a dispatcher took, with the slip, what she
-- allowed and wished for, and the key of the way. With it, and the plan that it began from, the plan can be made again.
-- Null: made by a search.
alter table plan add column way jsonb;
