-- For the search in the order of time, page by page.
create index audit_entry_by_time on audit_entry (at, id);
create index audit_entry_by_person on audit_entry (staff_id, at, id);
create index audit_entry_by_kind on audit_entry (kind, at, id);
