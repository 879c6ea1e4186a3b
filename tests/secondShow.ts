/** Where `npm test` builds the site of the second show, for the tests that open its pages. */
export const SECOND_SHOW = ".cache/second-show";
