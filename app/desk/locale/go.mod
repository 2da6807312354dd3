module a.whistlecut/locale

go 1.26
