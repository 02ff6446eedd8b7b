-- What was ever advised on a series, and the decisions after a session.
create index advice_by_series on advice (series_id, computed_at);
create index advice_by_session on advice (session_id);
create index advice_current_by_patient on advice (patient_id) where replaced_at is null;
