package wrong.treatment.web;

import org.springframework.stereotype.Controller;

@Controller
public class PublicController {

}
