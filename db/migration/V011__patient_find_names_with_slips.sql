-- Names are found with a typing slip, and as they sound.
create extension if not exists fuzzystrmatch;

-- A double name is found by each part and as one word: "O'Brien" by "brien" and "obrien".
create function words_of(names text) returns setof text language sql immutable parallel safe strict as $$
	select word from (
		select unnest(string_to_array(translate(names, '-''.,/()', '       '), ' '))
		union
		select unnest(string_to_array(translate(names, '-''.,/()', ''), ' '))) words(word)
	where word <> ''
$$;

-- A word and what is left of it when one letter is dropped. Two words that differ by one slip (a wrong letter, one too
-- many, one too few, two that changed places) have such a key in common. A number has itself only: every number is one
-- digit away from another patient's.
create function name_keys(names text) returns text[] language sql immutable parallel safe strict as $$
	select coalesce(array_agg(distinct key), '{}') from (
		select word from public.words_of(names) word
		union all
		select overlay(word placing '' from place for 1) from public.words_of(names) word, generate_series(1, length(word)) place
		where length(word) >= 4 and word !~ '[0-9]') keys(key)
$$;

-- How the words sound (Daitch-Mokotoff).
create function name_sounds(names text) returns text[] language sql immutable parallel safe strict as $$
	select coalesce(array_agg(distinct sound), '{}') from public.words_of(names) word, unnest(public.daitch_mokotoff(word)) sound
	where length(word) >= 3 and word !~ '[0-9]' and sound <> '000000'
$$;

create index patient_by_name_key on patient using gin (name_keys(search_text));
create index patient_by_name_sound on patient using gin (name_sounds(search_text));
