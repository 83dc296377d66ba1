-- What a report has met, by names (src/domain/site-report.ts), so that its crew reads the true cause in its own language;
-- 'meets' is the sentence for the office. Empty for what came before.
alter table site_report add column met text[] not null default '{}';
