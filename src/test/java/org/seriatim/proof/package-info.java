/**
 * Proofs that take a service apart while people write into it: processes killed, the
 * database gone, the disk full, files and requests that nobody in his right mind would
 * send, and a long day of a large clinic. A small seeded slice runs in every build, all
 * of it in the profile {@code proof}; docs/proof.md says what came of it.
 */
package org.seriatim.proof;
