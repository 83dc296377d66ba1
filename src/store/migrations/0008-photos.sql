-- Photos from site. A picture is kept as it is shown, scaled and without what a camera writes beside it; the file that was
-- sent is not kept.
create table photo (
  id bigint generated always as identity primary key,
  -- Made where the photo was chosen, so that a photo that is sent twice is kept once.
  key uuid not null unique,
  -- The change that put it on record.
  version bigint not null references change (version),
  -- The report that it belongs to. It may come before the report does, so there is nothing to refer to.
  report_key uuid,
  -- Houses, tasks and crews are parts of the company.
  job_id text not null,
  task_id text,
  crew_id text not null,
  -- By the phone's clock, and never after it was received.
  taken_at timestamptz not null,
  received_at timestamptz not null,
  said_by text not null,
  width integer not null check (width > 0),
  height integer not null check (height > 0),
  -- JPEG.
  bytes bytea not null,
  small bytea not null,
  -- SHA-256 of bytes, base64url.
  digest text not null
);
-- They are packed already: what is left for the database is to cut them up.
alter table photo alter column bytes set storage external;
alter table photo alter column small set storage external;
create index photo_job on photo (job_id, taken_at);
create index photo_crew on photo (crew_id, id);
create index photo_report on photo (report_key);
create index photo_version on photo (version);
