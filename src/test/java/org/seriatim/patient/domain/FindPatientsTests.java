package org.seriatim.patient.domain;

import java.time.Duration;
import java.time.LocalDate;
import java.util.List;

import org.jspecify.annotations.Nullable;
import org.junit.jupiter.api.BeforeEach;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;
import org.seriatim.access.CurrentStaff;
import org.seriatim.access.Role;
import org.seriatim.patient.PatientDirectory;
import org.seriatim.patient.PatientId;
import org.seriatim.support.DatabaseTest;
import org.seriatim.support.SignedInAs;
import org.seriatim.support.TestClock;
import org.springframework.beans.factory.annotation.Autowired;

import static org.assertj.core.api.Assertions.assertThat;

@DatabaseTest
@SignedInAs(Role.FRONT_DESK)
class FindPatientsTests {

	private final FindPatients find;

	private final KeepPatient keep;

	private final PatientDirectory directory;

	private final CurrentStaff staff;

	private final TestClock clock;

	@Autowired
	FindPatientsTests(FindPatients find, KeepPatient keep, PatientDirectory directory, CurrentStaff staff,
			TestClock clock) {
		this.find = find;
		this.keep = keep;
		this.directory = directory;
		this.staff = staff;
		this.clock = clock;
	}

	@BeforeEach
	void registerPatients() {
		register("R-00001", "Góralska", "Łucja", LocalDate.of(1990, 2, 3));
		register("R-00002", "Goralewska", "Anna", LocalDate.of(1985, 5, 6));
		register("R-00012", "Østby", "Åse", LocalDate.of(1979, 1, 1));
		register("R-00120", "Tamm", "Tove", LocalDate.of(1999, 9, 9));
		register("R-00121", "O'Brien", "Seán", null);
		register("R-00122", "Nowak-Lis", "Maja", LocalDate.of(2001, 12, 31));
		register("R-00123", "Kowalczyk", "Anna", LocalDate.of(1990, 2, 3));
	}

	@ParameterizedTest
	@ValueSource(strings = { "Góralska", "Goralska", "GORALSKA", "goralska", "Gorlaska", "Goralzka", "Gralska",
			"Goralskaa", "lucja", "Łucja Góralska", "Goralska Lucja", "lucja goralska", "Lucia Goralska", "gór łuc",
			"  góralska  " })
	void findsANameWithoutAccentsWithSlipsAndInAnyOrder(String typed) {
		assertThat(this.find.like(typed)).first().extracting(FoundPatient::recordNumber).isEqualTo("R-00001");
	}

	@ParameterizedTest
	@ValueSource(strings = { "Tmam", "Tam", "Tame", "Tamn", "Tove", "Toev", "tamm tove", "tove tamm" })
	void findsAShortName(String typed) {
		assertThat(this.find.like(typed)).extracting(FoundPatient::recordNumber).contains("R-00120");
	}

	@ParameterizedTest
	@ValueSource(strings = { "OBrien", "o'brien", "o’brien", "brien", "Sean" })
	void findsANameWithAnApostrophe(String typed) {
		assertThat(this.find.like(typed)).extracting(FoundPatient::recordNumber).containsExactly("R-00121");
	}

	@ParameterizedTest
	@ValueSource(strings = { "nowak", "lis", "nowak lis", "Nowak-Lis", "maja lis" })
	void findsEachPartOfADoubleName(String typed) {
		assertThat(this.find.like(typed)).extracting(FoundPatient::recordNumber).contains("R-00122");
	}

	@ParameterizedTest
	@ValueSource(strings = { "t", "to", "ta" })
	void takesShortInputForTheBeginningOfAWord(String typed) {
		assertThat(this.find.like(typed)).extracting(FoundPatient::recordNumber).containsExactly("R-00120");
	}

	@ParameterizedTest
	@ValueSource(strings = { "Kovalcik", "Kovaltschik", "Covalczyk Ana", "anna kovalcyk" })
	void findsANameAsItSounds(String typed) {
		assertThat(this.find.like(typed)).extracting(FoundPatient::recordNumber).containsExactly("R-00123");
	}

	@Test
	void offersWhatSoundsAlikeOnlyWhenNobodyIsCalledSo() {
		register("R-00300", "Meier", "Birgit", null);
		assertThat(this.find.like("Mayer")).extracting(FoundPatient::recordNumber).containsExactly("R-00300");
		register("R-00301", "Mayer", "Karl", null);
		assertThat(this.find.like("Mayer")).extracting(FoundPatient::recordNumber).containsExactly("R-00301");
		assertThat(this.find.like("Mayer Birgit")).extracting(FoundPatient::recordNumber).containsExactly("R-00300");
	}

	@Test
	void putsTheNameThatWasTypedBeforeSimilarOnes() {
		register("R-00200", "Goralska", "Beata", null);
		register("R-00201", "Goralski", "Adam", null);
		assertThat(this.find.like("Goralski")).first().extracting(FoundPatient::recordNumber).isEqualTo("R-00201");
		assertThat(this.find.like("Anna")).extracting(FoundPatient::recordNumber).containsExactly("R-00002", "R-00123");
	}

	@Test
	void findsEndAndWholeOfARecordNumberButNeverGuessesADigit() {
		assertThat(this.find.like("120")).extracting(FoundPatient::recordNumber).containsExactly("R-00120");
		assertThat(this.find.like("00012")).extracting(FoundPatient::recordNumber).first().isEqualTo("R-00012");
		assertThat(this.find.like("r-00121")).extracting(FoundPatient::recordNumber).containsExactly("R-00121");
		assertThat(this.find.like("99999")).isEmpty();
	}

	@Test
	void opensTheOneWithTheRecordNumberInEitherCase() {
		var tove = this.directory.byRecordNumber("R-00120").orElseThrow().id();
		assertThat(this.find.withRecordNumber("R-00120")).contains(tove);
		assertThat(this.find.withRecordNumber(" r-00120 ")).contains(tove);
		assertThat(this.find.withRecordNumber("120")).isEmpty();
	}

	@Test
	void findsASimilarNameWhenNothingElseHelps() {
		assertThat(this.find.like("Goralewskowitz")).extracting(FoundPatient::recordNumber).containsExactly("R-00002");
	}

	@ParameterizedTest
	@ValueSource(strings = { "", "   ", "%", "_", "...", "*", "(", "[", "\\", "'", "zzzzzz", "Xylander", "ska" })
	void findsNobodyByWhatIsNoName(String typed) {
		assertThat(this.find.like(typed)).isEmpty();
	}

	@Test
	void listsNoMoreThanAnybodyReads() {
		for (int at = 0; at < 40; at++) {
			register("S-" + at, "Ahonen", "Vesa", null);
		}
		assertThat(this.find.like("Ahonen")).hasSize(FindPatients.LARGEST_LIST);
	}

	@Test
	void listsThoseOpenedLastFirstAndOnlyOnesOwn() {
		var me = this.staff.id().orElseThrow();
		assertThat(numbers(this.find.recentlyOpenedBy(me))).hasSize(7);
		for (String number : List.of("R-00012", "R-00001")) {
			this.clock.advance(Duration.ofMinutes(1));
			this.directory.open(this.directory.byRecordNumber(number).orElseThrow().id());
		}
		assertThat(numbers(this.find.recentlyOpenedBy(me))).startsWith("R-00001", "R-00012").doesNotHaveDuplicates();
		assertThat(this.find.recentlyOpenedBy(org.seriatim.access.StaffId.next())).isEmpty();
	}

	@Test
	void warnsOfSomebodyWhoMayBeTheSamePerson() {
		assertThat(numbers(this.find.possiblyTheSameAs(identity("Goralska", "Lucja", LocalDate.of(1990, 2, 3)))))
			.containsExactly("R-00001");
		assertThat(numbers(this.find.possiblyTheSameAs(identity("Górallska", "Lucja", LocalDate.of(1990, 2, 3)))))
			.containsExactly("R-00001");
		assertThat(numbers(this.find.possiblyTheSameAs(identity("góralska", "łucja", null))))
			.containsExactly("R-00001");
		assertThat(this.find.possiblyTheSameAs(identity("Góralska", "Łucja", LocalDate.of(1950, 1, 1)))).isEmpty();
		assertThat(this.find.possiblyTheSameAs(identity("Novotná", "Jana", LocalDate.of(1990, 2, 3)))).isEmpty();
	}

	private static List<String> numbers(List<FoundPatient> found) {
		return found.stream().map(FoundPatient::recordNumber).toList();
	}

	private static Identity identity(String family, String given, @Nullable LocalDate born) {
		return new Identity("new", family, given, born, null);
	}

	private PatientId register(String number, String family, String given, @Nullable LocalDate born) {
		return this.keep.register(new PatientDetails(new Identity(number, family, given, born, null),
				new ContactDetails("+00 555 0100", null), null));
	}

}
