/**
 * Where the records live: a configured PostgreSQL, or an embedded one under the data
 * folder ({@code seriatim.data}) that survives its process. Invariant: no acknowledged
 * write is lost, and two services never run on one data folder without knowing of each
 * other.
 */
@NullMarked
@ApplicationModule(allowedDependencies = {})
package org.seriatim.database;

import org.jspecify.annotations.NullMarked;
import org.springframework.modulith.ApplicationModule;
