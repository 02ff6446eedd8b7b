/**
 * The pages of outcomes and their files.
 */
@NullMarked
package org.seriatim.outcome.web;

import org.jspecify.annotations.NullMarked;
