@NullMarked
package org.seriatim.finding.web;

import org.jspecify.annotations.NullMarked;
