@NullMarked
package org.seriatim.privacy.web;

import org.jspecify.annotations.NullMarked;
