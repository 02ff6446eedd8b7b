package org.seriatim.backup.web;

import java.util.List;
import java.util.Optional;

import org.seriatim.backup.domain.BackupState;
import org.seriatim.shell.NavigationEntry;
import org.seriatim.shell.Section;
import org.seriatim.shell.StandingNotice;
import org.springframework.context.annotation.Bean;
import org.springframework.context.annotation.Configuration;

@Configuration(proxyBeanMethods = false)
class BackupPages {

	static final String PATH = "/setup/backups";

	@Bean
	NavigationEntry backupsEntry() {
		return new NavigationEntry(Section.SETUP, 42, "backup.title", PATH);
	}

	@Bean
	StandingNotice backupNotice(BackupState state) {
		return new StandingNotice() {

			@Override
			public String path() {
				return PATH;
			}

			@Override
			public Optional<Said> now() {
				return state.alert().map((alert) -> switch (alert) {
					case NONE_YET -> new Said("backup.alert.none", List.of(), "backup.alert.look");
					case TOO_OLD -> state.lastGood()
						.map(state::age)
						.map(Age::of)
						.map((age) -> new Said("backup.alert.old." + age.unit(), List.of(age.count()),
								"backup.alert.look"))
						.orElseThrow();
				});
			}

		};
	}

}
