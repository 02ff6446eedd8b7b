-- What the list of the day looks for among everything else that is on record.
create index contact_in_vain on contact (session_id, contacted_on desc) where outcome = 'no_answer';
create index appointment_not_kept on appointment (starts_at) where status in ('booked', 'no_show');
create index appointment_of_outcome on appointment (patient_id, starts_at) where purpose in ('outcome', 'assessment');

-- What people did today, an import left out, and what patients told by a link.
drop index contact_by_recording;
drop index appointment_by_recording;
create index contact_by_recording on contact (recorded_at desc) where recorded_by is not null;
create index appointment_by_recording on appointment (recorded_at desc) where recorded_by is not null;
create index link_answer_by_time on link_answer (received_at desc);
