-- The address of a practitioner's calendar: whoever knows it reads it, so only its hash is kept, and there is one at a time.
create table calendar_feed (
	id uuid primary key default uuidv7(),
	staff_id uuid not null references staff,
	token_hash bytea not null unique check (length(token_hash) = 32),
	created_at timestamptz not null,
	revoked_at timestamptz check (revoked_at >= created_at)
);
create unique index calendar_feed_in_use on calendar_feed (staff_id) where revoked_at is null;
