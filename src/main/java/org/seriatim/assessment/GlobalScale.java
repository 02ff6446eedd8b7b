package org.seriatim.assessment;

import java.util.Arrays;
import java.util.List;
import java.util.Optional;

/**
 * The scales of the whole face that are entered as a number. Only scoring facts that are
 * free to use; the descriptors are ours. The ECCA score is not among them: it is computed
 * from counts.
 */
public enum GlobalScale {

	/**
	 * Improvement against the photograph from before the treatment, as judged by the
	 * practitioner and by the patient: 3 very much improved, 2 much improved, 1 improved,
	 * 0 no change, -1 worse (levels of Narins RS et al., Dermatol Surg 2003;29:588–595,
	 * in the numbers of the exchange bundle). Its levels are not averaged.
	 */
	GAIS("gais", true, item("practitioner", -1, 3), item("patient", -1, 3)),

	/**
	 * Qualitative grade: 1 macular, 2 mild, 3 moderate, 4 severe (Goodman GJ, Baron JA,
	 * Dermatol Surg 2006); 0 none is our addition.
	 */
	GOODMAN_BARON_QUALITATIVE("gb-qual", false, item("grade", 0, 4)),

	/**
	 * Quantitative total, each type of scar scored once (Goodman GJ, Baron JA, J Cosmet
	 * Dermatol 2006;5:48–52; the point table was written down from memory).
	 */
	GOODMAN_BARON_QUANTITATIVE("gb-quant", false, item("total", 0, 84)),

	/**
	 * 0 clear to 5 very severe at each site (Tan JKL et al., J Cutan Med Surg
	 * 2010;14:156–160). Without one of the sites there is no sum.
	 */
	SCAR_S("scar-s", false, item("face", 0, 5), item("chest", 0, 5), item("back", 0, 5)),

	/** The patient's satisfaction, 0 to 10 (common practice, no source). */
	SATISFACTION("sat-0-10", true, item("patient", 0, 10));

	private final String word;

	private final boolean higherIsBetter;

	private final List<Item> items;

	GlobalScale(String word, boolean higherIsBetter, Item... items) {
		this.word = word;
		this.higherIsBetter = higherIsBetter;
		this.items = List.of(items);
	}

	/**
	 * One number of a scale.
	 *
	 * @param word the word in files and in the database
	 */
	public record Item(String word, int least, int largest) {
	}

	private static Item item(String word, int least, int largest) {
		return new Item(word, least, largest);
	}

	public static Optional<GlobalScale> ofWord(String word) {
		return Arrays.stream(values()).filter((scale) -> scale.word.equals(word)).findFirst();
	}

	/** The word in files and in the database. */
	public String word() {
		return this.word;
	}

	public boolean higherIsBetter() {
		return this.higherIsBetter;
	}

	public List<Item> items() {
		return this.items;
	}

	public Optional<Item> item(String word) {
		return this.items.stream().filter((item) -> item.word().equals(word)).findFirst();
	}

}
