package org.seriatim.treatment.web;

import java.math.BigDecimal;
import java.time.Clock;
import java.time.LocalDate;
import java.util.List;
import java.util.UUID;

import jakarta.validation.Valid;
import org.jspecify.annotations.Nullable;
import org.seriatim.shell.Written;
import org.seriatim.treatment.domain.AlreadyInCatalogue;
import org.seriatim.treatment.domain.CatalogueLot;
import org.seriatim.treatment.domain.CatalogueProduct;
import org.seriatim.treatment.domain.ProductCatalogue;
import org.springframework.boot.autoconfigure.condition.ConditionalOnWebApplication;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.validation.BindingResult;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.server.ResponseStatusException;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;

/** Setup: the products that the clinic injects, and their lots. */
@Controller
@ConditionalOnWebApplication
class CatalogueController {

	private static final String LIST = "redirect:/setup/products";

	private static final String UNKNOWN = "–";

	private final ProductCatalogue catalogue;

	private final Clock clock;

	CatalogueController(ProductCatalogue catalogue, Clock clock) {
		this.catalogue = catalogue;
		this.clock = clock;
	}

	/** One product of the page. */
	record ProductLine(UUID id, String substance, String vialMg, String hyaluronicMg, boolean inUse,
			List<LotLine> lots) {
	}

	/** One lot of the page. */
	record LotLine(UUID id, String lot, String expiresOn, boolean expired, boolean inUse) {
	}

	@GetMapping("/setup/products")
	ModelAndView list() {
		return new ModelAndView("treatment/catalogue", "products",
				this.catalogue.all().stream().map(this::line).toList());
	}

	@GetMapping("/setup/products/new")
	ModelAndView askForProduct() {
		return productPage(null, HttpStatus.OK).addObject("form", ProductForm.empty());
	}

	@PostMapping("/setup/products/new")
	ModelAndView enterProduct(@Valid @ModelAttribute("form") ProductForm form, BindingResult errors,
			RedirectAttributes flash) {
		if (!errors.hasErrors()) {
			try {
				this.catalogue.enterProduct(form.requiredSubstance(), form.vial(), form.hyaluronic());
				flash.addFlashAttribute("notice", "treatment.catalogue.saved");
				return new ModelAndView(LIST);
			}
			catch (AlreadyInCatalogue ex) {
				errors.rejectValue("substance", "treatment.catalogue.product.twice");
			}
		}
		return productPage(null, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@GetMapping("/setup/products/{product}/edit")
	ModelAndView askToMendProduct(@PathVariable UUID product) {
		var existing = product(product);
		return productPage(existing, HttpStatus.OK).addObject("form", ProductForm.from(existing));
	}

	@PostMapping("/setup/products/{product}/edit")
	ModelAndView mendProduct(@PathVariable UUID product, @Valid @ModelAttribute("form") ProductForm form,
			BindingResult errors, RedirectAttributes flash) {
		var existing = product(product);
		if (!errors.hasErrors()) {
			try {
				this.catalogue.mendProduct(product, form.version(), form.requiredSubstance(), form.vial(),
						form.hyaluronic(), Boolean.TRUE.equals(form.inUse()));
				flash.addFlashAttribute("notice", "treatment.catalogue.saved");
				return new ModelAndView(LIST);
			}
			catch (AlreadyInCatalogue ex) {
				errors.rejectValue("substance", "treatment.catalogue.product.twice");
			}
		}
		return productPage(existing, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@GetMapping("/setup/products/{product}/lots/new")
	ModelAndView askForLot(@PathVariable UUID product) {
		return lotPage(product(product), null, HttpStatus.OK).addObject("form", LotForm.empty());
	}

	@PostMapping("/setup/products/{product}/lots/new")
	ModelAndView enterLot(@PathVariable UUID product, @Valid @ModelAttribute("form") LotForm form, BindingResult errors,
			RedirectAttributes flash) {
		var of = product(product);
		checkExpiry(form, errors);
		if (!errors.hasErrors()) {
			try {
				this.catalogue.enterLot(product, form.requiredLot(), form.requiredExpiry());
				flash.addFlashAttribute("notice", "treatment.catalogue.saved");
				return new ModelAndView(LIST);
			}
			catch (AlreadyInCatalogue ex) {
				errors.rejectValue("lot", "treatment.catalogue.lot.twice");
			}
		}
		return lotPage(of, null, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	@GetMapping("/setup/lots/{lot}/edit")
	ModelAndView askToMendLot(@PathVariable UUID lot) {
		var existing = lot(lot);
		return lotPage(product(existing.product()), existing, HttpStatus.OK).addObject("form", LotForm.from(existing));
	}

	@PostMapping("/setup/lots/{lot}/edit")
	ModelAndView mendLot(@PathVariable UUID lot, @Valid @ModelAttribute("form") LotForm form, BindingResult errors,
			RedirectAttributes flash) {
		var existing = lot(lot);
		checkExpiry(form, errors);
		if (!errors.hasErrors()) {
			try {
				this.catalogue.mendLot(lot, form.version(), form.requiredLot(), form.requiredExpiry(),
						Boolean.TRUE.equals(form.inUse()));
				flash.addFlashAttribute("notice", "treatment.catalogue.saved");
				return new ModelAndView(LIST);
			}
			catch (AlreadyInCatalogue ex) {
				errors.rejectValue("lot", "treatment.catalogue.lot.twice");
			}
		}
		return lotPage(product(existing.product()), existing, HttpStatus.UNPROCESSABLE_CONTENT);
	}

	private static void checkExpiry(LotForm form, BindingResult errors) {
		if (!LotForm.canBeExpiry(form.expiresOn())) {
			errors.rejectValue("expiresOn", "treatment.session.expiry.implausible");
		}
	}

	private static ModelAndView productPage(@Nullable CatalogueProduct product, HttpStatus status) {
		return new ModelAndView("treatment/product-form", status).addObject("product", product);
	}

	private static ModelAndView lotPage(CatalogueProduct product, @Nullable CatalogueLot lot, HttpStatus status) {
		return new ModelAndView("treatment/lot-form", status).addObject("product", product).addObject("lot", lot);
	}

	private ProductLine line(CatalogueProduct product) {
		var today = LocalDate.now(this.clock);
		return new ProductLine(product.id(), product.substance(), plain(product.vialMg()),
				plain(product.hyaluronicMg()), product.inUse(),
				product.lots()
					.stream()
					.map((lot) -> new LotLine(lot.id(), lot.lot(), Written.day(lot.expiresOn()),
							lot.hasExpiredOn(today), lot.inUse()))
					.toList());
	}

	private static String plain(@Nullable BigDecimal value) {
		return (value != null) ? value.toPlainString() : UNKNOWN;
	}

	private CatalogueProduct product(UUID id) {
		return this.catalogue.product(id).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

	private CatalogueLot lot(UUID id) {
		return this.catalogue.lot(id).orElseThrow(() -> new ResponseStatusException(HttpStatus.NOT_FOUND));
	}

}
