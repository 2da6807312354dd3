package answers

import (
	"strings"

	"whistlecut/timeline"
)

// say is a text of ours in a language; one that is missing stays English.
func say(language, english string) string {
	if s, ok := texts[english][language]; ok {
		return s
	}
	return english
}

type in = map[string]string

// texts are the words of page and table, keyed by their English.
var texts = map[string]in{
	"Number":   {"es": "Número", "fr": "Numéro", "de": "Nummer"},
	"Question": {"es": "Pregunta", "fr": "Question", "de": "Frage"},
	"Answer":   {"es": "Respuesta", "fr": "Réponse", "de": "Antwort"},
	"Answers":  {"es": "Respuestas", "fr": "Réponses", "de": "Antworten"},
	"Name":     {"es": "Nombre", "fr": "Nom", "de": "Name"},
	"Date":     {"es": "Fecha", "fr": "Date", "de": "Datum"},
	"Group":    {"es": "Grupo", "fr": "Groupe", "de": "Gruppe"},
	"A pseudonym will do; use the same one before and after.": {
		"es": "Vale un seudónimo; usa el mismo antes y después.",
		"fr": "Un pseudonyme suffit ; garde le même avant et après.",
		"de": "Ein Pseudonym genügt; nimm vorher und nachher dasselbe.",
	},
	"When do you answer?":  {"es": "¿Cuándo respondes?", "fr": "Quand réponds-tu ?", "de": "Wann antwortest du?"},
	"before the training":  {"es": "antes de la formación", "fr": "avant la formation", "de": "vor der Schulung"},
	"after the training":   {"es": "después de la formación", "fr": "après la formation", "de": "nach der Schulung"},
	"there is no training": {"es": "no hay formación", "fr": "il n'y a pas de formation", "de": "es gibt keine Schulung"},
	"skip":                 {"es": "omitir", "fr": "passer", "de": "auslassen"},
	"Code":                 {"es": "Código", "fr": "Code", "de": "Code"},
	"not said":             {"es": "sin indicar", "fr": "non précisé", "de": "nicht gesagt"},
	"answered":             {"es": "respondidas", "fr": "répondues", "de": "beantwortet"},
	"Hand in":              {"es": "Entregar", "fr": "Rendre", "de": "Abgeben"},
	"Copy the code":        {"es": "Copiar el código", "fr": "Copier le code", "de": "Code kopieren"},
	"Copied":               {"es": "Copiado", "fr": "Copié", "de": "Kopiert"},
	"It could not be copied: mark the code and copy it by hand.": {
		"es": "No se pudo copiar: marca el código y cópialo a mano.",
		"fr": "La copie a échoué : sélectionne le code et copie-le à la main.",
		"de": "Kopieren ging nicht: markiere den Code und kopiere ihn von Hand.",
	},
	"Save as a file": {"es": "Guardar como archivo", "fr": "Enregistrer en fichier", "de": "Als Datei speichern"},
	"Start again":    {"es": "Empezar de nuevo", "fr": "Recommencer", "de": "Von vorn beginnen"},
	"Forget all answers on this device?": {
		"es": "¿Olvidar todas las respuestas en este aparato?",
		"fr": "Oublier toutes les réponses sur cet appareil ?",
		"de": "Alle Antworten auf diesem Gerät vergessen?",
	},
	"Your answers": {"es": "Tus respuestas", "fr": "Tes réponses", "de": "Deine Antworten"},
	"Send the trainer this code, or save the file and send that. If you change an answer, hand in again; the newest counts.": {
		"es": "Envía este código a quien forma, o guarda el archivo y envíalo. Si cambias una respuesta, entrega de nuevo; cuenta lo último.",
		"fr": "Envoie ce code à la personne qui forme, ou enregistre le fichier et envoie-le. Si tu changes une réponse, rends de nouveau ; le plus récent compte.",
		"de": "Schick diesen Code an die Person, die schult, oder speichere die Datei und schick sie. Wenn du eine Antwort änderst, gib noch einmal ab; das Neueste zählt.",
	},
	"Please write a name or a pseudonym.": {
		"es": "Escribe un nombre o un seudónimo.",
		"fr": "Écris un nom ou un pseudonyme.",
		"de": "Bitte schreib einen Namen oder ein Pseudonym.",
	},
	"Please say when you answer.": {"es": "Di cuándo respondes.", "fr": "Dis quand tu réponds.", "de": "Bitte sag, wann du antwortest."},
	"Please answer one question at least.": {
		"es": "Responde al menos una pregunta.",
		"fr": "Réponds à une question au moins.",
		"de": "Bitte beantworte mindestens eine Frage.",
	},
	"The answers are too long for a code; save the file.": {
		"es": "Las respuestas son demasiado largas para un código; guarda el archivo.",
		"fr": "Les réponses sont trop longues pour un code ; enregistre le fichier.",
		"de": "Die Antworten sind zu lang für einen Code; speichere die Datei.",
	},
	Fairness: {
		"es": "Se responde para aprender: nadie es evaluado aquí, y ninguna respuesta corrige a quienes arbitraron. Los clips muestran a personas; no los pases sin su permiso.",
		"fr": "On répond pour apprendre : personne n'est noté ici, et aucune réponse ne corrige celles et ceux qui ont arbitré. Les clips montrent des personnes ; ne les transmets pas sans leur accord.",
		"de": "Geantwortet wird, um zu lernen: niemand wird hier benotet, und keine Antwort berichtigt die, die gepfiffen haben. Die Clips zeigen Menschen; gib sie nicht ohne deren Einverständnis weiter.",
	},
	"This page sends nothing. What you fill in stays on this device until you hand it over yourself.": {
		"es": "Esta página no envía nada. Lo que rellenas queda en este aparato hasta que tú lo entregues.",
		"fr": "Cette page n'envoie rien. Ce que tu remplis reste sur cet appareil jusqu'à ce que tu le remettes toi-même.",
		"de": "Diese Seite sendet nichts. Was du ausfüllst, bleibt auf diesem Gerät, bis du es selbst weitergibst.",
	},
	"This page needs scripts to be allowed. Without them, use the sheet on paper.": {
		"es": "Esta página necesita que se permitan scripts. Sin ellos, usa la hoja de papel.",
		"fr": "Cette page a besoin que les scripts soient autorisés. Sans eux, prends la feuille de papier.",
		"de": "Diese Seite braucht erlaubte Skripte. Ohne sie nimm den Bogen auf Papier.",
	},
	"One column for each person. Write yes, no or warning; with a penalty its letter, too: yes B. Leave empty what is skipped.": {
		"es": "Una columna por persona. Escribe sí, no o advertencia; con una penalización también su letra: sí B. Deja vacío lo que se omite.",
		"fr": "Une colonne par personne. Écris oui, non ou avertissement ; pour une pénalité aussi sa lettre : oui B. Laisse vide ce qui est passé.",
		"de": "Eine Spalte je Person. Schreib ja, nein oder Verwarnung; bei einer Strafe auch ihren Buchstaben: ja B. Leer lassen, was ausgelassen wird.",
	},
	"before, after or any word": {"es": "antes, después o cualquier palabra", "fr": "avant, après ou un mot quelconque", "de": "vorher, nachher oder ein beliebiges Wort"},
	"yes":                       {"es": "sí", "fr": "oui", "de": "ja"},
	"no":                        {"es": "no", "fr": "non", "de": "nein"},
	"warning":                   {"es": "advertencia", "fr": "avertissement", "de": "Verwarnung"},
}

// Fairness stands on every page and sheet that asks for answers.
const Fairness = "People answer to learn: nobody is graded here, and no answer corrects those who officiated. The clips show people; do not pass them on without their consent."

// FairnessIn is Fairness in a language.
func FairnessIn(language string) string { return say(language, Fairness) }

// choiceWords are what people write for a choice, in small letters.
var choiceWords = map[string]timeline.Choice{
	"yes": timeline.ChoiceYes, "sí": timeline.ChoiceYes, "si": timeline.ChoiceYes, "oui": timeline.ChoiceYes, "ja": timeline.ChoiceYes,
	"no": timeline.ChoiceNo, "non": timeline.ChoiceNo, "nein": timeline.ChoiceNo,
	"warning": timeline.ChoiceWarning, "advertencia": timeline.ChoiceWarning, "avertissement": timeline.ChoiceWarning, "verwarnung": timeline.ChoiceWarning,
}

// skipWords are what people write for no answer.
var skipWords = map[string]bool{"": true, "-": true, "–": true, "—": true, "?": true, "/": true, "skip": true, "omitir": true, "passer": true, "auslassen": true}

// groupWords are what people write for a group.
var groupWords = map[string]string{
	"before": Before, "antes": Before, "avant": Before, "vorher": Before, "vor": Before,
	"after": After, "después": After, "despues": After, "après": After, "apres": After, "nachher": After, "nach": After,
}

// GroupOf is a group as it is kept: the words for before and after in any of the four
// languages are Before and After, anything else stays as it is.
func GroupOf(text string) string {
	text = plain(text)
	if g, ok := groupWords[strings.ToLower(text)]; ok {
		return g
	}
	for _, english := range []string{"before the training", "after the training"} {
		g, _, _ := strings.Cut(english, " ")
		if strings.EqualFold(text, english) {
			return g
		}
		for _, s := range texts[english] {
			if strings.EqualFold(text, s) {
				return g
			}
		}
	}
	return text
}

// T is a text of page, table and paper in the form's language; one that is missing
// stays English.
func (f Form) T(english string) string { return say(f.Language, english) }
