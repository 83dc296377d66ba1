-- The company as parts, one row for each thing that people edit, and the record of every change.
-- What a part holds is said by the schema of the company file (daylap-company/1); the tables keep it whole and in order.

-- One row: how often the company has been changed. Each change adds 1.
create table company_state (
  only_row boolean primary key default true check (only_row),
  version bigint not null check (version >= 0)
);
insert into company_state (version) values (0);

create table part (
  -- 'company', 'policy', 'trade', 'crew', 'equipment', 'job', 'task', 'delivery', 'hold' or 'published'.
  kind text not null,
  -- Unique within its kind. Of a task or a delivery: the job's id, a slash, its own.
  id text not null,
  -- Order among the parts of its kind. Gaps are left where parts went away.
  position integer not null,
  -- The version of the company at which this part was written last.
  version bigint not null,
  body jsonb not null,
  primary key (kind, id)
);

create table change (
  -- The version of the company that this change made.
  version bigint primary key,
  made_at timestamptz not null,
  -- Null where nobody was signed in: the command line, the demo, the program itself.
  person_id bigint,
  -- As they were called then.
  person_name text not null,
  -- What kind of change, and a finished sentence about it.
  kind text not null,
  sentence text not null,
  why text not null,
  -- The parts that it touched, by 'kind/id': {position, body}, or null where there was none.
  before jsonb not null,
  after jsonb not null,
  -- The change that this one undid.
  undoes bigint unique references change (version)
);
create index change_made_at on change (made_at);
-- Which changes touched a part?
create index change_parts on change using gin ((before || after));

-- Every plan that people have seen, with all that it takes to make it again.
create table plan (
  id bigint generated always as identity primary key,
  company_version bigint not null,
  made_at timestamptz not null,
  as_of timestamptz not null,
  seed bigint not null,
  iterations bigint not null,
  -- The plan that the search began from.
  from_plan bigint references plan (id),
  planner_version text not null,
  cost double precision not null,
  -- As text: kept to the byte.
  body text not null
);
create index plan_company_version on plan (company_version, id);
