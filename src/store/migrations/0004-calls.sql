-- Calls to make: whom a change of what is published concerns, with the old and the new dates and what to say. Written in
-- the transaction of that change; ticked off one by one.
create table call_to_make (
  id bigint generated always as identity primary key,
  -- The change that made it necessary: a publish, or the taking back of one.
  version bigint not null references change (version),
  whom text not null check (whom in ('homeowner', 'subcontractor', 'supplier')),
  -- The house; of a subcontractor the crew; of a supplier the house, a slash and the delivery.
  subject text not null,
  -- As they were called then.
  name text not null,
  -- A list of {what, from, to}: dates, or null where there is none.
  dates jsonb not null,
  say text not null,
  ticked_at timestamptz,
  ticked_by text,
  -- The change that took back the one that made this call, before it was made.
  withdrawn_by bigint references change (version),
  check ((ticked_at is null) = (ticked_by is null)),
  check (ticked_at is null or withdrawn_by is null)
);
create index call_to_make_version on call_to_make (version);
create index call_to_make_withdrawn on call_to_make (withdrawn_by) where withdrawn_by is not null;
create index call_to_make_open on call_to_make (id) where ticked_at is null and withdrawn_by is null;
