-- A one-time password opens nothing after this time; null for one that its owner chose.
alter table account add column one_time_until timestamptz;
update account set one_time_until = now() + interval '72 hours' where password_expired;
alter table account add check (one_time_until is null or password_expired);
