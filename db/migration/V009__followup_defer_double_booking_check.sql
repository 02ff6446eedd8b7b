-- An import cancels one appointment and books another in its place, in whatever order; what counts is the end of it.
alter table appointment
	drop constraint appointment_without_double_booking,
	add constraint appointment_without_double_booking exclude using gist (
		practitioner_id with =, tstzrange(starts_at, ends_at) with &&) where (status in ('booked', 'arrived'))
		deferrable initially immediate;
