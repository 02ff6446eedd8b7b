-- What is asked before a session, in versions: a clinic lead publishes the next one, and none is edited. Every answer and
-- decision keeps the version that it was made on, and the words in which it was asked.
create table screening_list (
	number int primary key,
	published_at timestamptz not null,
	published_by uuid references staff,
	reason text not null check (reason <> '')
);
create table screening_list_item (
	list int not null references screening_list,
	item text not null check (item ~ '^[a-z0-9_]{3,40}$'),
	place int not null check (place >= 0),
	question text not null check (question = btrim(question) and question <> ''),
	level text not null check (level in ('stop', 'caution')),
	valid_days int not null check (valid_days between 1 and 365),
	asked text not null,
	switched_off text check (switched_off = btrim(switched_off) and switched_off <> ''),
	primary key (list, item),
	unique (list, place)
);
create trigger screening_list_is_never_edited before update or delete on screening_list
	for each row execute function refuse_change();
create trigger screening_list_item_is_never_edited before update or delete on screening_list_item
	for each row execute function refuse_change();
comment on table screening_list_item is 'Rights of the service: select, insert';

-- Levels, days and when each is asked: docs/clinical.md, where each has its source.
insert into screening_list values (1, now(), null, 'The list that Seriatim starts with');
insert into screening_list_item (list, item, place, question, level, valid_days, asked) values
	(1, 'infection_site', 0, 'Infection, cold sore or inflamed rash in the treatment area', 'stop', 1, 'every_session'),
	(1, 'infection_systemic', 1, 'Fever or infection elsewhere', 'stop', 1, 'every_session'),
	(1, 'active_acne_severe', 2, 'Active inflamed or cystic acne in the area', 'caution', 7, 'every_session'),
	(1, 'keloid_tendency', 3, 'Keloid or hypertrophic scars, personal history', 'stop', 365, 'baseline_and_yearly'),
	(1, 'pregnancy', 4, 'Pregnant or could be', 'stop', 1, 'every_session'),
	(1, 'lactation', 5, 'Breast-feeding', 'caution', 28, 'every_session'),
	(1, 'isotretinoin', 6, 'Oral isotretinoin now or in the last 6 months', 'caution', 28, 'every_session'),
	(1, 'immune_disease', 7, 'Autoimmune, granulomatous or connective tissue disease', 'caution', 180, 'baseline_and_half_yearly'),
	(1, 'immunosuppression', 8, 'Immune-suppressing medicine or condition, chemotherapy, interferon-like therapy', 'caution', 90, 'every_session'),
	(1, 'bleeding', 9, 'Anticoagulant, antiplatelet or bleeding disorder', 'caution', 28, 'every_session'),
	(1, 'allergy_amide', 10, 'Allergy to amide local anaesthetics', 'stop', 365, 'baseline_and_yearly'),
	(1, 'allergy_product', 11, 'Allergy to any component of the injectable or past severe allergy', 'stop', 365, 'baseline_and_yearly'),
	(1, 'methaemoglobin', 12, 'Methaemoglobinaemia, G6PD deficiency or medicines that cause methaemoglobinaemia', 'stop', 365, 'baseline_and_yearly'),
	(1, 'cardiac_liver', 13, 'Heart rhythm disease, class III antiarrhythmic, severe liver disease', 'caution', 180, 'baseline_and_half_yearly'),
	(1, 'implanted_electronic', 14, 'Pacemaker, defibrillator or other active implant', 'stop', 365, 'if_energy_device'),
	(1, 'metal_in_field', 15, 'Metal implant or permanent filler in the field', 'caution', 365, 'if_energy_device'),
	(1, 'permanent_filler', 16, 'Earlier permanent or unknown filler in the area', 'caution', 365, 'baseline_and_yearly'),
	(1, 'recent_procedure', 17, 'Filler, laser, peel or surgery in the area in the last 6 months', 'caution', 28, 'every_session'),
	(1, 'prior_filler_reaction', 18, 'Earlier reaction to an injectable', 'caution', 365, 'baseline_and_yearly'),
	(1, 'herpes_history', 19, 'Recurrent cold sores in the area', 'caution', 365, 'baseline_and_yearly'),
	(1, 'pih_melasma', 20, 'Melasma, earlier PIH or tan in the last 4 weeks', 'caution', 28, 'every_session'),
	(1, 'vaccine_dental_illness', 21, 'Vaccination, dental work or viral illness in the last 2 weeks', 'caution', 14, 'every_session'),
	(1, 'body_image_concern', 22, 'Concern of the clinician about body dysmorphic disorder or expectations', 'caution', 180, 'baseline_and_half_yearly'),
	(1, 'diabetes_uncontrolled', 23, 'Poorly controlled diabetes or poor healing', 'caution', 180, 'baseline_and_half_yearly'),
	(1, 'skin_cancer_suspect', 24, 'Suspicious or undiagnosed lesion in the area', 'stop', 1, 'every_session'),
	(1, 'age_under_18', 25, 'Under 18 years', 'stop', 1, 'every_session'),
	(1, 'consent_missing', 26, 'No valid consent for this session', 'stop', 1, 'every_session');

-- The words come from the version, so that no answer can be on record in words that nobody published.
alter table screening_answer add column question text;
alter table screening_decision add column question text;
alter table screening_answer disable trigger user;
alter table screening_decision disable trigger user;
update screening_answer a set question = i.question
	from screening_list_item i where i.list = a.list_version and i.item = a.item;
update screening_decision d set question = i.question
	from screening_list_item i where i.list = d.list_version and i.item = d.item;
alter table screening_answer enable trigger user;
alter table screening_decision enable trigger user;
update previous_version v set content = v.content || jsonb_build_object('question', i.question)
	from screening_list_item i
	where v.table_name in ('screening_answer', 'screening_decision')
		and i.list = (v.content ->> 'list_version')::int and i.item = v.content ->> 'item';
alter table screening_answer alter column question set not null,
	add foreign key (list_version, item) references screening_list_item;
alter table screening_decision alter column question set not null,
	add foreign key (list_version, item) references screening_list_item;

create function word_as_listed() returns trigger language plpgsql as $$
begin
	new.question := (select i.question from screening_list_item i where i.list = new.list_version and i.item = new.item);
	return new;
end $$;
create trigger screening_answer_is_worded_as_listed before insert or update on screening_answer
	for each row execute function word_as_listed();
create trigger screening_decision_is_worded_as_listed before insert or update on screening_decision
	for each row execute function word_as_listed();
