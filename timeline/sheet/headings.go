package sheet

// vocabulary lists, per field, how the trade heads a column, in English,
// Spanish, French and German (and the abbreviations that fit a narrow column).
// Entries are written as plain() leaves them. The words are those of the
// rulebook's editions and of officials' talk; common practice, no source.
var vocabulary = map[Field][]string{
	FieldPeriod: {
		"period", "prd", "per", "half", "half time period", "period no",
		"periodo", "tiempo", "mitad", "parte", "cuarto",
		"periode", "mi temps", "mt", "manche",
		"halbzeit", "halfte", "haelfte", "hz", "abschnitt", "spielabschnitt",
	},
	FieldJam: {
		"jam", "jam no", "jam number", "j no", "jam nr", "jams",
		"no jam", "numero de jam", "numero jam", "num jam",
		"numero du jam", "no de jam", "no du jam",
		"jamnummer", "jam nummer", "jam num", "in jam", "jam in",
	},
	FieldTeam: {
		"team", "squad", "side", "club", "team name", "team colour", "team color",
		"equipo", "bando", "conjunto",
		"equipe", "formation",
		"mannschaft", "verein", "seite",
	},
	FieldJammer: {
		"jammer", "j no", "jammer no", "jammer number", "jmr", "jam skater", "jammers", "jr", "jammer num", "point scorer",
		"anotadora", "anotador", "jammer dorsal", "dorsal jammer", "dorsal de jammer", "numero jammer", "no jammer", "jammer numero",
		"jammeuse", "jammeur", "attaquante", "attaquant", "marqueuse", "no jammeuse", "numero jammeuse", "numero de jammeuse",
		"jammerin", "jammerinnen", "jammer nummer", "nummer jammerin", "jammerin nr", "startnummer jammer", "angreiferin",
	},
	FieldLost: {
		"lost", "lst", "lost lead", "lead lost", "loss", "lo", "ineligible",
		"perdido", "perdida", "perd", "pierde", "pierde lider", "lider perdido", "liderazgo perdido", "perdio", "lead perdido", "perdio lider",
		"perdu", "perte", "lead perdu", "perte du lead", "perte lead", "statut perdu", "perdue", "perte de statut",
		"verloren", "verl", "lead verloren", "verlust", "leadverlust", "lead weg", "fuhrung verloren", "fuehrung verloren", "status verloren", "vrl",
	},
	FieldLead: {
		"lead", "ld", "lead jammer", "leader", "le", "led",
		"lider", "jammer lider", "liderato", "liderazgo", "lid", "es lider", "primera",
		"meneuse", "meneur", "jammeuse de tete", "jammeuse en tete", "tete", "en tete", "jammeuse meneuse", "lead jammeuse",
		"fuhrung", "fuehrung", "fuhrende", "fuehrende", "leadjammer", "leadjammerin", "lead jammerin", "fuhrend", "ld jm",
	},
	FieldCall: {
		"call", "called", "call off", "calloff", "cal", "called off", "calls", "jam called", "ca", "cll",
		"cancela", "cancelado", "cancelada", "cancelacion", "llamada", "fin", "finaliza", "finalizado", "termina", "corta", "corte", "canc", "llama", "jam cancelado", "cierra", "fin del jam", "cierre", "parada",
		"appel", "appele", "arret", "fin appelee", "jam arrete", "arrete", "stoppe", "annule", "fin de jam", "fin du jam", "coupe", "rappel", "appel fin", "call fin", "app",
		"abbruch", "abgebrochen", "beendet", "abgerufen", "abruf", "jam beendet", "abgepfiffen", "abpfiff", "abbr", "gecalled", "gecallt", "stopp",
	},
	FieldInj: {
		"inj", "injury", "injured", "inj call", "called for injury", "injuries",
		"lesion", "les", "lesionada", "lesionado", "lesiones",
		"blessure", "bless", "bles", "blessee", "blesse", "arret blessure", "blessures", "bl",
		"verletzung", "verletzt", "vl", "verletz", "verletzungsabbruch", "vtz",
	},
	FieldNI: {
		"ni", "no initial", "no initial trip", "initial not completed", "no initial pass", "not initial", "noinitial", "initial incomplete", "incomplete initial", "no init",
		"sin inicial", "no inicial", "inicial incompleta", "vuelta inicial incompleta", "pasada inicial incompleta", "inicial no completada", "sin vuelta inicial", "sin pasada inicial",
		"pas initial", "pas de passage initial", "initial manque", "sans initial", "non initial", "initial non complete", "initial incomplet", "passage initial incomplet", "passage initial non complete", "pas de tour initial", "initial non termine", "passage initial manque",
		"kein initial", "ohne initial", "keine initialrunde", "initial nicht", "initialrunde nicht", "nicht initial", "keine initial", "initial unvollstandig", "erste runde nicht", "ohne erste runde", "kein erster durchgang", "einstiegsrunde nicht", "startrunde nicht", "initialrunde offen", "initialrunde unvollstandig",
	},
	FieldTrips: {
		"trips", "scoring trips", "points per trip", "trip points", "passes", "scoring passes", "trip scores",
		"pasadas", "vueltas", "viajes", "puntos por pasada", "puntos por vuelta", "puntos por viaje", "recorridos", "pases",
		"passages", "tours", "points par passage", "points par tour", "trajets",
		"runden", "durchgange", "durchgaenge", "punkte je runde", "punkte pro runde", "rundenpunkte", "umlaufe", "durchlaufe", "wertungsrunden",
	},
	FieldMarks: {
		"marks", "status", "jammer status", "flags",
		"marcas", "estado", "estatus", "statut", "marques", "markierungen",
	},
	FieldJamTotal: {
		"jam total", "jam points", "jam pts", "jam score", "points", "pts", "jam tot", "points in jam", "jt", "total jam", "points this jam", "jam sum", "total", "tot", "score", "sum", "pt", "score in jam",
		"puntos", "puntos jam", "puntos del jam", "total jam", "total del jam", "ptos", "suma", "suma jam", "tanteo jam", "puntos en el jam", "total puntos", "ptos jam",
		"points du jam", "points jam", "total du jam", "somme", "score jam", "score du jam", "pts jam", "total points", "tot jam",
		"punkte", "jam punkte", "jampunkte", "pkt", "pkte", "jam summe", "jamsumme", "summe jam", "jam gesamt", "punkte im jam", "summe", "punkte jam", "jam pkt", "punkte pro jam", "ergebnis jam", "jamergebnis",
	},
	FieldGameTotal: {
		"game total", "running total", "running score", "game score", "total score", "cumulative", "cumulative score", "bout total", "running", "game tot", "gt", "cumul", "score so far", "total so far", "overall", "game", "bout score", "cum", "match total", "progressive",
		"total partido", "partido", "total acumulado", "acumulado", "acum", "marcador", "total del partido", "total juego", "puntuacion total", "puntos acumulados", "marcador acumulado", "total bout", "total encuentro", "tanteo", "total general", "acumulada", "parcial",
		"total match", "match", "partie", "cumule", "total cumule", "score total", "total partie", "total du match", "points cumules", "score cumule", "total general", "score courant", "total rencontre", "total en cours",
		"gesamt", "spiel", "spielstand", "gesamtpunkte", "zwischenstand", "laufend", "kumuliert", "gesamtstand", "stand", "spiel gesamt", "gesamtsumme", "punktestand", "gesamtpunktzahl", "spielsumme", "laufende summe", "summe gesamt", "aufgelaufen", "ges", "gesamtergebnis", "total spiel",
	},
	FieldStarPass: {
		"star pass", "sp", "starpass", "star passed", "new jammer",
		"pase de estrella", "estrella", "pase estrella", "pe", "cambio de estrella", "nueva jammer",
		"passe d etoile", "passe etoile", "etoile", "passage d etoile", "transfert d etoile", "passe de l etoile", "passage etoile", "nouvelle jammeuse",
		"sternpass", "stern", "sternubergabe", "stern ubergabe", "sternuebergabe", "ubergabe", "helmhaube", "neue jammerin",
	},
	FieldSkater: {
		"skater", "skater no", "skater number", "number", "no", "player", "num", "nr", "uniform", "uniform number", "jersey", "sk8er", "player no", "skaters",
		"patinadora", "patinador", "jugadora", "jugador", "numero", "dorsal", "no patinadora", "numero patinadora", "dorsal patinadora", "camiseta",
		"patineuse", "patineur", "joueuse", "joueur", "no patineuse", "numero patineuse", "maillot", "numero de patineuse", "matricule",
		"skaterin", "lauferin", "laeuferin", "spielerin", "spieler", "laufer", "nummer", "ruckennummer", "rueckennummer", "trikotnummer", "trikot", "startnummer", "spielernummer",
	},
	FieldName: {
		"name", "skater name", "derby name", "player name", "names",
		"nombre", "nombre de patinadora", "nombre derby", "alias", "apodo",
		"nom", "nom de derby", "nom de la patineuse", "prenom", "surnom", "pseudo", "nom derby",
		"derbyname", "derby name", "name der skaterin", "spielername", "spielerinnen",
	},
	FieldCode: {
		"code", "penalty code", "letter", "penalty letter", "call code", "infraction", "penalty type", "offence", "offense", "reason",
		"codigo", "letra", "codigo penalizacion", "codigo de penalizacion", "falta", "tipo de penalizacion", "infraccion", "motivo",
		"lettre", "code penalite", "code de penalite", "faute", "type de penalite", "motif",
		"kurzel", "kuerzel", "strafcode", "buchstabe", "strafkurzel", "strafenkurzel", "vergehen", "strafart", "grund", "regelverstoss", "art der strafe",
	},
	FieldPenalty: {
		"penalty", "penalties", "pen", "foul", "pnlty",
		"penalizacion", "penalizaciones", "penalti", "castigo", "sancion", "sanciones", "penal",
		"penalite", "penalites", "sanction", "sanctions",
		"strafe", "strafen", "strafzeit", "str",
	},
	FieldPenaltyJam: {
		"penalty jam", "jam of penalty", "pen jam", "jam assessed", "jam called",
		"jam penalizacion", "jam de la penalizacion", "jam penalite", "jam de la penalite", "jam der strafe", "strafe jam", "jam strafe",
	},
	FieldOut: {
		"fo", "foul out", "fouled out", "exp", "fo exp", "expulsion", "expelled", "foulout", "out", "ejection", "ejected", "foul out expulsion",
		"expulsion", "expulsada", "eliminada", "eliminacion", "fuera", "descalificada", "limite de faltas",
		"exclusion", "exclue", "expulse", "expulsee", "sortie", "elimination", "expulsion exclusion",
		"ausschluss", "ausgeschlossen", "verweis", "foulout ausschluss", "fo ausschluss", "spielausschluss", "disqualifikation",
	},
	FieldNoPivot: {
		"no pivot", "np", "without pivot", "nopivot", "no piv",
		"sin pivote", "sin pivot", "no pivote", "sans pivot", "pas de pivot", "pas pivot",
		"ohne pivot", "kein pivot", "keine pivot", "op",
	},
	FieldPivot: {
		"pivot", "piv", "pvt", "pivot no", "pivot number", "pivots",
		"pivote", "no pivote", "dorsal pivote", "pivotes", "pivot dorsal", "numero pivote",
		"pivote", "pivotin", "pivot nr", "pivotin nr", "pivotspielerin",
	},
	FieldBlocker: {
		"blocker", "blk", "blocker no", "blockers", "block", "blkr", "bl", "blocker number", "pack", "other blocker",
		"bloqueadora", "bloqueador", "bloqueadoras", "bloq", "defensa", "defensora", "bloqueo", "bloqueadores",
		"bloqueuse", "bloqueur", "blockeuse", "bloqueuses", "blockeur", "defenseuse", "bloc", "blockeuses",
		"blockerin", "blockerinnen", "blocker nr", "verteidigerin", "block", "blockerin nr",
	},
	FieldBox: {
		"box", "box mark", "box trip", "box symbol", "in box", "box trips", "bx", "penalty box", "box visit",
		"banquillo", "banca", "caja", "en banquillo", "simbolo", "prision", "zona de penalizacion",
		"prison", "banc", "en prison", "zone de penalite", "symbole", "cachot",
		"strafbank", "strafbox", "bank", "boxzeichen", "zeichen", "symbol", "strafb",
	},
	FieldRole: {
		"role", "position", "pos", "jpb", "playing as", "skater position",
		"posicion", "rol", "puesto", "funcion",
		"poste", "fonction",
		"rolle", "funktion",
	},
	FieldDuration: {
		"duration", "jam duration", "jam length", "length", "jam time", "dur", "time taken", "elapsed", "length of jam",
		"duracion", "duracion del jam", "duracion jam", "tiempo de jam", "tiempo del jam", "tiempo jam",
		"duree", "duree du jam", "duree jam", "temps de jam", "temps du jam", "longueur",
		"dauer", "jamdauer", "jam dauer", "lange", "laenge", "jamlange", "jamzeit", "dauer des jams", "jam zeit",
	},
	FieldClock: {
		"clock", "period clock", "game clock", "time left", "clock at start", "clock start", "start clock", "time remaining", "remaining", "time on clock", "start", "start time", "time",
		"reloj", "reloj de periodo", "tiempo restante", "reloj inicio", "reloj del periodo", "cronometro", "restante", "inicio", "hora", "reloj al inicio", "crono",
		"horloge", "chrono", "temps restant", "chronometre", "horloge de periode", "debut", "horloge debut", "heure", "restant", "horloge au debut", "temps",
		"uhr", "spieluhr", "restzeit", "periodenuhr", "uhr start", "zeit", "beginn", "spielzeit", "anfang", "uhrzeit", "uhr beginn", "uhr bei start",
	},
	FieldClockEnd: {
		"clock at end", "clock end", "end clock", "end", "end time", "period clock end", "clock after",
		"reloj fin", "reloj final", "reloj al final", "final", "horloge fin", "fin horloge", "horloge a la fin", "uhr ende", "ende", "uhr bei ende", "uhr am ende",
	},
	FieldType: {
		"type", "kind", "timeout type", "event", "to or", "timeout", "what", "stoppage", "time out",
		"tipo", "clase", "tiempo muerto", "tipo de tiempo", "evento",
		"genre", "temps mort", "type de temps mort", "evenement", "nature",
		"art", "typ", "auszeit", "ereignis", "art der auszeit",
	},
	FieldRetained: {
		"retained", "kept", "review retained", "ret", "or retained",
		"retenida", "conservada", "se conserva", "mantiene", "mantenida", "revision retenida",
		"conservee", "conserve", "retenue", "maintenue", "gardee", "conservation",
		"behalten", "erhalten", "bleibt erhalten", "einbehalten",
	},
	FieldIn: {
		"in", "time in", "in time", "sat", "sits", "seated", "sit", "box in", "entry", "entered", "sat down", "in at",
		"entrada", "entra", "sentada", "se sienta", "hora de entrada",
		"entree", "assise", "assis", "arrivee", "entre", "heure d entree",
		"rein", "sitzt", "eintritt", "hingesetzt", "ein", "sitzen", "gesetzt", "zeit rein",
	},
	FieldStand: {
		"stand", "stands", "standing", "stood", "stand time", "up", "stand at",
		"de pie", "en pie", "se levanta", "pie", "levantada",
		"debout", "leve", "se leve", "levee",
		"steht", "stehen", "aufstehen", "aufgestanden", "steht auf",
	},
	FieldDone: {
		"done", "released", "release", "out time", "leaves", "left", "exit", "box out", "done at",
		"salida", "sale", "fuera de banquillo", "hora de salida", "libre", "liberada", "hecho",
		"sort", "liberee", "finie", "fini", "termine", "heure de sortie", "depart",
		"fertig", "raus", "entlassen", "austritt", "frei", "aus", "zeit raus", "verlasst",
	},
	FieldOutJam: {
		"out jam", "jam out", "exit jam", "jam left", "jam of exit", "jam salida", "jam de salida", "jam sortie", "jam de sortie", "jam raus", "jam austritt",
	},
	FieldBetween: {
		"between", "between jams", "btw", "sat between jams", "entre jams", "entre jam", "entre los jams", "entre les jams", "zwischen", "zwischen jams", "zwischen den jams", "pause",
	},
}

// tripWords head a trip column together with its number: "Trip 2", "2. Runde".
var tripWords = wordSet(`trip trips t pass passes tr lap scoring points pts
	pasada vuelta viaje pase recorrido puntos
	passage tour trajet points
	runde durchgang umlauf durchlauf wertungsrunde punkte`)

// kindWords name a table's kind in titles and worksheet names.
var kindWords = map[Kind][]string{
	KindScore:     {"score", "scores", "scoring", "score sheet", "scoresheet", "points", "puntuacion", "puntos", "marcador", "anotacion", "tanteo", "pointage", "punkte", "punktezettel", "punkteblatt", "spielstand", "wertung", "feuille de score"},
	KindPenalties: {"penalty", "penalties", "penalizaciones", "penalizacion", "faltas", "sanciones", "penalites", "penalite", "fautes", "strafen", "strafe", "strafenliste", "penalty tracker"},
	KindLineups:   {"line up", "line ups", "lineup", "lineups", "alineacion", "alineaciones", "formation", "formations", "composition", "compositions", "alignement", "alignements", "aufstellung", "aufstellungen"},
	KindClock:     {"clock", "jam clock", "jam times", "times", "timing", "durations", "game clock", "reloj", "tiempos", "duraciones", "horloge", "chrono", "chronometrage", "durees", "uhr", "zeiten", "jamzeiten", "spieluhr", "zeitnahme"},
	KindTimeouts:  {"timeout", "timeouts", "time outs", "reviews", "tiempos muertos", "revisiones", "temps morts", "revisions", "auszeiten", "auszeit", "uberprufungen"},
	KindBox:       {"box", "penalty box", "box times", "banquillo", "prison", "strafbank", "strafbox", "zone de penalite", "box timing", "caja"},
	KindRoster:    {"roster", "rosters", "team list", "skaters", "plantilla", "plantillas", "jugadoras", "patinadoras", "lista", "effectif", "effectifs", "joueuses", "patineuses", "kader", "mannschaftsliste", "spielerinnen", "skaterinnen"},
}

// homeWords and awayWords name the sides (rosters list the home side first).
var (
	homeWords = wordSet(`home local locales casa anfitrion anfitriona anfitrionas domicile locaux locale recevant recevante hote heim gastgeber gastgeberinnen heimmannschaft heimteam hometeam`)
	awayWords = wordSet(`away visitor visitors visiting guest guests visitante visitantes visitant fuera visiteur visiteurs visiteuse visiteuses visiteurs exterieur invite invitee gast gaste gaeste auswarts auswaerts auswartsteam gastmannschaft gastteam opponents`)
)

// starWords mark a star-pass row in the jam column; a star or "opp" after them
// makes it the other side's (the spacer row).
var starWords = wordSet(`sp starpass star pass pe estrella etoile pde sternpass stern sue ps passe pase estr`)

// totalWords begin the line that sums a period or the game.
var totalWords = wordSet(`total totals totales totaux gesamt summe suma somme sum subtotal subtotals zwischensumme endstand final halftime`)
