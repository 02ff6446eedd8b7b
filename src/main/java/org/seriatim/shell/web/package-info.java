@NullMarked
package org.seriatim.shell.web;

import org.jspecify.annotations.NullMarked;
