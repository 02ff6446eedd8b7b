package wrong.treatment.web;

public record PublicForm(String text) {

}
