-- For the list of what somebody opened last.
create index audit_entry_by_staff on audit_entry (staff_id, patient_id, at) where patient_id is not null;
