-- Private addresses that show one thing to whoever has them: a crew's calendar feed, or a house to the people who live in
-- it. Of a token there is only its SHA-256. Crews and houses are parts of the company, so there is nothing to refer to.
create table private_link (
  id bigint generated always as identity primary key,
  kind text not null check (kind in ('feed', 'house')),
  -- The crew's id, or the house's.
  subject text not null,
  token_hash text not null unique,
  -- The last four characters of the token, so that people can tell which link somebody has.
  ending text not null,
  made_at timestamptz not null,
  made_by text not null,
  revoked_at timestamptz,
  -- Written at most once a minute.
  last_used_at timestamptz
);
create unique index private_link_standing on private_link (kind, subject) where revoked_at is null;

alter table people_change add column subject_house_id text;

-- What a crew's calendar feed has said of each stay at a house, so that a calendar is told when it is changed or moved away.
create table fed_event (
  -- The event's UID, the same for ever for a crew, a date, a house and the nth stay there.
  uid text primary key,
  crew_id text not null,
  -- YYYY-MM-DD, by the company's calendar.
  date date not null,
  -- Counts what has been said of it, from 0.
  sequence integer not null,
  -- When what is said was published.
  stamped_at timestamptz not null,
  -- Whether it is no longer published.
  is_cancelled boolean not null,
  -- The version of the company by which it was written last.
  version bigint not null,
  -- What the calendar shows.
  body jsonb not null
);
create index fed_event_crew on fed_event (crew_id, date);
