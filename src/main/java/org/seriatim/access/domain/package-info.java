/**
 * Accounts, tokens, the audit hook, and the commands that open accounts and make tokens.
 */
@NullMarked
package org.seriatim.access.domain;

import org.jspecify.annotations.NullMarked;
