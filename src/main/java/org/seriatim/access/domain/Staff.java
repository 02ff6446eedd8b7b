package org.seriatim.access.domain;

import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.TreeSet;
import java.util.UUID;
import java.util.stream.Collectors;

import org.seriatim.access.Role;
import org.seriatim.access.StaffDirectory;
import org.seriatim.access.StaffId;
import org.seriatim.access.StaffMember;
import org.springframework.jdbc.core.RowMapper;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;
import org.springframework.transaction.annotation.Transactional;

@Component
class Staff implements StaffDirectory {

	private static final RowMapper<StaffMember> MEMBER = (row,
			number) -> new StaffMember(new StaffId(row.getObject("id", UUID.class)), row.getString("name"));

	private final JdbcClient database;

	Staff(JdbcClient database) {
		this.database = database;
	}

	@Override
	public List<StaffMember> all() {
		return this.database.sql("select id, name from staff order by name").query(MEMBER).list();
	}

	@Override
	public List<StaffMember> holding(Role role) {
		return this.database.sql("""
				select staff.id, staff.name
				from staff
				join account on account.staff_id = staff.id and account.active
				join account_role on account_role.account_id = account.id and account_role.role = :role
				order by staff.name""").param("role", role.word()).query(MEMBER).list();
	}

	@Override
	public Optional<StaffMember> byId(StaffId id) {
		return this.database.sql("select id, name from staff where id = :id")
			.param("id", id.value())
			.query(MEMBER)
			.optional();
	}

	Optional<StaffMember> byName(String name) {
		return this.database.sql("select id, name from staff where name = :name")
			.param("name", name)
			.query(MEMBER)
			.optional();
	}

	Optional<String> nameOfAccount(UUID account) {
		return this.database
			.sql("select staff.name from staff join account on account.staff_id = staff.id where account.id = :account")
			.param("account", account)
			.query(String.class)
			.optional();
	}

	@Override
	@Transactional
	public Map<String, StaffId> named(Collection<String> names) {
		if (names.isEmpty()) {
			return Map.of();
		}
		var wanted = new TreeSet<>(names).toArray(String[]::new);
		this.database.sql("insert into staff (name) select unnest(:names) on conflict (name) do nothing")
			.param("names", wanted)
			.update();
		return this.database.sql("select id, name from staff where name = any(:names)")
			.param("names", wanted)
			.query(MEMBER)
			.stream()
			.collect(Collectors.toMap(StaffMember::name, StaffMember::id));
	}

}
