package org.seriatim.outcome.web;

import jakarta.validation.constraints.NotBlank;
import jakarta.validation.constraints.Size;
import org.jspecify.annotations.Nullable;

/** Opens the names of practitioners in the clinic's figures. */
record NamesForm(@NotBlank @Size(max = 500) @Nullable String reason) {
}
