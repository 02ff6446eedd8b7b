@NullMarked
package org.seriatim.backup.domain;

import org.jspecify.annotations.NullMarked;
