-- Goes up with each mark of the office on a report: by it open pages can tell that one was settled since.
create sequence site_report_mark;
