-- People, what lets them in, and the record of what was changed about them.
-- Nothing secret is kept as it is: of a password there is a slow hash, of a token its SHA-256.

create table person (
  id bigint generated always as identity primary key,
  name text not null,
  -- E-mail address or short name, as it was written, and folded so that nobody else has the same one in other letters.
  account text not null,
  account_key text not null unique,
  role text not null check (role in ('owner', 'dispatcher', 'viewer')),
  -- With the parameters it was made with. Null until a password is set.
  password_hash text,
  version bigint not null default 1,
  made_at timestamptz not null,
  disabled_at timestamptz
);

create table session (
  token_hash text primary key,
  person_id bigint not null references person (id),
  made_at timestamptz not null,
  -- Written at most once a minute.
  last_seen_at timestamptz not null,
  -- The end that no use puts off.
  expires_at timestamptz not null
);
create index session_person on session (person_id);

-- One-time links that end with a password being set.
create table invitation (
  token_hash text primary key,
  -- Null: whoever opens it becomes the owner of a house that has none.
  person_id bigint references person (id),
  purpose text not null check (purpose in ('first-owner', 'welcome', 'reset')),
  made_at timestamptz not null,
  expires_at timestamptz not null,
  used_at timestamptz,
  check ((person_id is null) = (purpose = 'first-owner'))
);
create index invitation_person on invitation (person_id);

-- Links that open the day sheets of one crew. Crews are parts of the company, so there is nothing here to refer to.
create table crew_link (
  id bigint generated always as identity primary key,
  crew_id text not null,
  token_hash text not null unique,
  -- The last four characters of the token, so that people can tell which link somebody has.
  ending text not null,
  made_at timestamptz not null,
  made_by text not null,
  expires_at timestamptz not null,
  revoked_at timestamptz,
  -- Written at most once a minute.
  last_used_at timestamptz
);
create unique index crew_link_standing on crew_link (crew_id) where revoked_at is null;

-- Failed tries to sign in, counted by account and by network address; what has no failed try has no row.
create table sign_in_attempt (
  scope text not null check (scope in ('account', 'address')),
  -- Of an account the SHA-256 of its folded name: people type passwords into the wrong field.
  key text not null,
  failures integer not null,
  last_at timestamptz not null,
  -- No try is looked at before this.
  free_at timestamptz not null,
  primary key (scope, key)
);
create index sign_in_attempt_last on sign_in_attempt (last_at);

-- The record of changes to people and to crew links; it stands beside the record of the company's own changes.
create table people_change (
  id bigint generated always as identity primary key,
  made_at timestamptz not null,
  -- Null where nobody was signed in: the first run, the command line.
  person_id bigint,
  -- As they were called then.
  person_name text not null,
  kind text not null,
  sentence text not null,
  why text not null,
  -- The person whom it is about, or the crew of a link; the other one is null.
  subject_person_id bigint,
  subject_crew_id text,
  -- What people may see of the subject: {name, account, role, disabled}, a link's {ending, expiresAt}, or null.
  before jsonb,
  after jsonb
);
create index people_change_made_at on people_change (made_at);
create index people_change_subject on people_change (subject_person_id, id);
