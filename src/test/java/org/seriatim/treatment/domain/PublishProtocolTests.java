package org.seriatim.treatment.domain;

import java.time.Duration;
import java.time.LocalDate;
import java.util.List;

import org.junit.jupiter.api.Test;
import org.seriatim.access.Role;
import org.seriatim.shell.StaleVersion;
import org.seriatim.support.DatabaseTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestClock;
import org.seriatim.treatment.ProtocolPublished;
import org.seriatim.treatment.ProtocolVersion;
import org.seriatim.treatment.ProtocolVersion.SkinShift;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.dao.DataAccessException;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.test.context.event.ApplicationEvents;
import org.springframework.test.context.event.RecordApplicationEvents;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatExceptionOfType;

@DatabaseTest
@SignedInAs(Role.CLINIC_LEAD)
@RecordApplicationEvents
class PublishProtocolTests {

	@Autowired
	PublishProtocol publishProtocol;

	@Autowired
	PublishedProtocols protocols;

	@Autowired
	JdbcClient database;

	@Autowired
	TestClock clock;

	@Autowired
	ApplicationEvents events;

	@Test
	void aClinicStartsWithTheValuesOfVersion1() {
		var current = this.protocols.current();
		assertThat(current).isEqualTo(new ProtocolVersion(1, current.publishedOn(), 42, 14, 56, 14, 14, 0.90, 30, 10, 5,
				3, 3, SkinShift.NOT_SET, List.of(1, 3, 7, 15), 7));
	}

	@Test
	void publishesTheNextVersionAndLeavesTheOthersAsTheyAre() {
		var first = this.protocols.current();
		assertThat(this.publishProtocol.next(1, PublishProtocolTests::longerForThinSkin, "thin skin heals late"))
			.isEqualTo(2);
		assertThat(this.protocols.current()).isEqualTo(longerForThinSkin(2, LocalDate.parse("2026-11-20")));
		assertThat(this.protocols.byNumber(1)).contains(first);
		assertThat(this.protocols.byNumber(2)).isPresent();
		assertThat(this.protocols.byNumber(3)).isEmpty();
		assertThat(this.events.stream(ProtocolPublished.class)).containsExactly(new ProtocolPublished(2));
	}

	@Test
	void keepsWhoPublishedItWhenAndWhy() {
		this.publishProtocol.next(1, PublishProtocolTests::longerForThinSkin, "thin skin heals late");
		assertThat(this.protocols.history()).extracting((published) -> published.version().number())
			.containsExactly(2, 1);
		var newest = this.protocols.history().get(0);
		assertThat(newest.note()).isEqualTo("thin skin heals late");
		assertThat(newest.publishedAt()).isEqualTo(TestClock.START);
		assertThat(newest.publishedBy()).isNotNull();
		assertThat(this.protocols.history().get(1).publishedBy()).isNull();
	}

	@Test
	void isInForceFromTheDayOfItsPublication() {
		this.clock.advance(Duration.ofDays(30));
		this.publishProtocol.next(1, PublishProtocolTests::longerForThinSkin, "thin skin heals late");
		assertThat(this.protocols.inForceOn(LocalDate.parse("2026-12-19")).number()).isEqualTo(1);
		assertThat(this.protocols.inForceOn(LocalDate.parse("2026-12-20")).number()).isEqualTo(2);
		assertThat(this.protocols.inForceOn(LocalDate.parse("2020-01-01")).number()).isEqualTo(1);
	}

	@Test
	void refusesToPublishWhatIsInForce() {
		var current = this.protocols.current();
		assertThatExceptionOfType(NothingNew.class)
			.isThrownBy(() -> this.publishProtocol.next(1, (number, day) -> new ProtocolVersion(number, day, 42, 14, 56,
					14, 14, 0.90, 30, 10, 5, 3, 3, SkinShift.NOT_SET, current.contactDays(), 7), "again"));
	}

	@Test
	void refusesAFormThatStartedFromAnOlderVersion() {
		this.publishProtocol.next(1, PublishProtocolTests::longerForThinSkin, "thin skin heals late");
		assertThatExceptionOfType(StaleVersion.class)
			.isThrownBy(() -> this.publishProtocol.next(1, PublishProtocolTests::longerForThinSkin, "again"));
	}

	@Test
	void isNeverEditedInPlace() {
		assertThatExceptionOfType(DataAccessException.class)
			.isThrownBy(() -> this.database.sql("update protocol_version set base_interval_days = 41").update())
			.withMessageContaining("never edited");
	}

	private static ProtocolVersion longerForThinSkin(int number, LocalDate day) {
		return new ProtocolVersion(number, day, 42, 14, 56, 14, 14, 0.90, 30, 10, 5, 3, 3, new SkinShift(7, 0, -3),
				List.of(1, 3, 7, 15, 28), 7);
	}

}
