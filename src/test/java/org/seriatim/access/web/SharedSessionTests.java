package org.seriatim.access.web;

import org.junit.jupiter.api.Test;
import org.seriatim.support.PageTest;
import org.springframework.beans.factory.annotation.Autowired;
import org.springframework.session.Session;
import org.springframework.session.SessionRepository;

import static org.assertj.core.api.Assertions.assertThat;

/** A session as two requests have it in their hands at once, at one service or at two. */
@PageTest
class SharedSessionTests {

	@Autowired
	private SessionRepository<? extends Session> sessions;

	@Test
	void whatBothAddIsThereOnce() {
		bothAdd(this.sessions);
	}

	@Test
	void whatOneAddsWhenTheOtherHasEndedItIsGone() {
		oneEnds(this.sessions);
	}

	private static <S extends Session> void bothAdd(SessionRepository<S> sessions) {
		var id = fresh(sessions);
		S one = sessions.findById(id);
		S other = sessions.findById(id);
		one.setAttribute("notice", "first");
		other.setAttribute("notice", "second");
		sessions.save(one);
		sessions.save(other);
		assertThat(sessions.findById(id).<String>getAttribute("notice")).isEqualTo("second");
	}

	private static <S extends Session> void oneEnds(SessionRepository<S> sessions) {
		var id = fresh(sessions);
		S one = sessions.findById(id);
		sessions.deleteById(id);
		one.setAttribute("notice", "late");
		sessions.save(one);
		assertThat(sessions.findById(id)).isNull();
	}

	private static <S extends Session> String fresh(SessionRepository<S> sessions) {
		S session = sessions.createSession();
		sessions.save(session);
		return session.getId();
	}

}
