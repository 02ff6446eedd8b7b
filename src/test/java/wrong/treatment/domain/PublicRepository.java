package wrong.treatment.domain;

import org.springframework.data.repository.Repository;

public interface PublicRepository extends Repository<Object, Long> {

}
