package print

// languages are the page's own texts by language code, keyed by their English.
// English itself needs no table. The names of penalties stand as the rules have
// them.
var languages = map[string]map[string]string{"es": spanish, "fr": french, "de": german}
