package examples

import (
	"path/filepath"
	"time"

	"whistlecut/app/desk/words"
	"whistlecut/app/quiz"
)

// The files of a report.
const (
	reportPaper = "agreement.pdf"
	reportTable = "agreement.csv"
)

// save writes the report into a folder and says which files. People's own shares are
// on the paper only when named is true; the table holds none.
func (q *quizShelf) save(dir string, named bool) ([]string, error) {
	paper, table := filepath.Join(dir, reportPaper), filepath.Join(dir, reportTable)
	if err := quiz.AgreementPDF(paper, q.says.Report(q.plan, words.Code(), named), words.Code(), time.Now()); err != nil {
		return nil, err
	}
	if err := quiz.AgreementCSV(table, q.says); err != nil {
		return nil, err
	}
	return []string{paper, table}, nil
}
