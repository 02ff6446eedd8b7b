@NullMarked
package org.seriatim.backup.web;

import org.jspecify.annotations.NullMarked;
