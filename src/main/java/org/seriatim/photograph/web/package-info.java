@NullMarked
package org.seriatim.photograph.web;

import org.jspecify.annotations.NullMarked;
