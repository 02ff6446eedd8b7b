package wrong.treatment.domain;

import wrong.treatment.web.PublicForm;

public record KnowsItsPage(PublicForm form) {

}
