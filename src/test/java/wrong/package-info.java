/**
 * Classes that each break one rule of the architecture, to see the rule red. They stand
 * outside the application's package, where no scan finds them.
 */
package wrong;
