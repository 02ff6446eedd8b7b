/**
 * The invented clinic and its loading.
 */
@NullMarked
package org.seriatim.demo.domain;

import org.jspecify.annotations.NullMarked;
