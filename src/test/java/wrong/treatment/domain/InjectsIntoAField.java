package wrong.treatment.domain;

import javax.sql.DataSource;

import org.springframework.beans.factory.annotation.Autowired;

public class InjectsIntoAField {

	@Autowired
	DataSource database;

}
