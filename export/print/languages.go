package print

// languages are the page's own texts by language code, keyed by their English.
// English itself needs no table.
var languages = map[string]map[string]string{}
