-- What crews have said from site. Each report is written in the transaction of the change on record that it is, and is
-- never changed but by the office's mark that it is settled.
create table site_report (
  id bigint generated always as identity primary key,
  -- Made where the report was said: what comes with it again is the same report.
  key uuid not null unique,
  -- The change that put it on record.
  version bigint not null unique references change (version),
  -- Crews, houses and tasks are parts of the company, so there is nothing to refer to.
  crew_id text not null,
  -- The day that it is about: YYYY-MM-DD, by the company's calendar.
  date date not null,
  kind text not null
    check (kind in ('start', 'done', 'hours-left', 'stuck', 'damage', 'stretch', 'short-handed')),
  -- Null where it is about the crew's day.
  job_id text,
  task_id text,
  -- By the clock of the phone, and when it came.
  said_at timestamptz not null,
  received_at timestamptz not null,
  said_by text not null,
  body jsonb not null,
  -- Whether the forecast has it.
  applied boolean not null,
  -- What it met, where the plan had changed or did not allow it: a sentence for the office.
  meets text,
  settled_at timestamptz,
  settled_by text,
  check (said_at <= received_at),
  check ((job_id is null) = (task_id is null)),
  check ((settled_at is null) = (settled_by is null))
);
create index site_report_task on site_report (job_id, task_id);
create index site_report_crew on site_report (crew_id, id);
create index site_report_open on site_report (id) where settled_at is null;
