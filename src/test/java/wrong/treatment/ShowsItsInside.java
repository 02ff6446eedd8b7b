package wrong.treatment;

import wrong.treatment.domain.InjectsIntoAField;

public record ShowsItsInside(InjectsIntoAField inside) {

}
