-- A crew lead's link is a private link like the others, and the only kind that runs out.
alter table private_link drop constraint private_link_kind_check;
alter table private_link add constraint private_link_kind_check check (kind in ('crew', 'feed', 'house'));
-- Null where it stands until it is taken back.
alter table private_link add column expires_at timestamptz;

insert into private_link (kind, subject, token_hash, ending, made_at, made_by, expires_at, revoked_at, last_used_at)
  select 'crew', crew_id, token_hash, ending, made_at, made_by, expires_at, revoked_at, last_used_at
  from crew_link order by id;
drop table crew_link;
