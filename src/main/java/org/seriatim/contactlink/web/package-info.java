@NullMarked
package org.seriatim.contactlink.web;

import org.jspecify.annotations.NullMarked;
