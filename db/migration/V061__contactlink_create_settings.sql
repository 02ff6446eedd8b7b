-- What this clinic says to patients who answer by a link, and in the mail that carries it. A version is never edited.
create table contact_link_settings (
	number int primary key,
	published_at timestamptz not null,
	published_by uuid references staff,
	clinic_name text check (clinic_name = btrim(clinic_name) and clinic_name <> ''),
	clinic_phone text check (clinic_phone = btrim(clinic_phone) and clinic_phone <> ''),
	emergency_text text check (emergency_text = btrim(emergency_text) and emergency_text <> ''),
	emergency_phone text check (emergency_phone = btrim(emergency_phone) and emergency_phone <> ''),
	reading_times text check (reading_times = btrim(reading_times) and reading_times <> ''),
	base_address text check (base_address ~ '^https?://' and base_address !~ '[/[:space:]]$'),
	days int not null check (days between 1 and 365),
	sender text,
	subject text not null check (subject !~ '[[:cntrl:]]'),
	body text not null check (body like '%{link}%')
);
create trigger contact_link_settings_are_never_edited before update or delete on contact_link_settings
	for each row execute function refuse_change();
comment on table contact_link_settings is 'Rights of the service: select, insert';

insert into contact_link_settings (number, published_at, days, subject, body) values (1, now(), 42, 'A short question',
	E'Hello,\n\nwe have a few short questions for you. It takes about a minute:\n\n{link}\n\nPlease do not answer this mail. In an emergency, do not use the link.\n\n{clinic}\n{phone}\n');
