package wrong.statistics;

public final class CountsItsCalls {

	private static int calls;

	public int calls() {
		return ++calls;
	}

}
