' Ramwright for LibreOffice Calc, in Basic alone: answers the table of enquiries on the first sheet.
'
' The table begins in A1. Its head names the parameters of {{address}}/v1/quick/ram-set, as in
'   note | load_t | points | travel_mm | clearance_mm
' and each row under it is one enquiry. The answers are written beside it, from the column "status" on.
' RamwrightBatch sends the whole table at once, RamwrightRows one row after another.
' No JSON is read: the answer is CSV without quotes.
' Results do not replace local codes, the maker's data or a competent engineer. Never work under a load held by oil alone.
Option Explicit

Const ADDRESS = "{{address}}"
Const ENQUIRY = "ram-set" ' or load-share, verification, packing-lifts

' A sheet with your own rams from A1, with the heads of the workbook's sheet "Catalogue"; they go along with each request.
Const CATALOGUE_SHEET = ""
Const BOUNDARY = "ramwright-3f1c9a7e52d84b06"

Sub RamwrightBatch()
  RamwrightBatchIn(ThisComponent)
End Sub

Sub RamwrightRows()
  RamwrightRowsIn(ThisComponent)
End Sub

Function RamwrightBatchIn(document As Object) As String
  Dim sheet As Object, nRows As Long, nColumns As Long, i As Long, nFailed As Long
  Dim body As String, answer As String, lines As Variant
  sheet = document.Sheets.getByIndex(0)
  nColumns = InputColumns(sheet, nRows)
  If nRows < 2 Then
    RamwrightBatchIn = "There is no table in A1."
    Exit Function
  End If
  For i = 0 To nRows - 1
    body = body & CsvLine(sheet, i, nColumns)
  Next i
  answer = Post(body, OwnRams(document))
  lines = Split(answer, Chr(13) & Chr(10))
  If Left(answer, 6) = "#ERROR" Then
    RamwrightBatchIn = answer
    Exit Function
  End If
  If UBound(lines) < nRows Then
    RamwrightBatchIn = "The answer broke off after " & UBound(lines) & " lines; nothing was written."
    Exit Function
  End If
  For i = 0 To nRows - 1
    nFailed = nFailed + WriteLine(sheet, i, nColumns, lines(0), lines(i))
  Next i
  RamwrightBatchIn = (nRows - 1) & " rows, " & nFailed & " with a problem"
End Function

Function RamwrightRowsIn(document As Object) As String
  Dim sheet As Object, nRows As Long, nColumns As Long, i As Long, nFailed As Long
  Dim head As String, answer As String, lines As Variant, progress As Object, rams As String
  sheet = document.Sheets.getByIndex(0)
  nColumns = InputColumns(sheet, nRows)
  If nRows < 2 Then
    RamwrightRowsIn = "There is no table in A1."
    Exit Function
  End If
  progress = document.CurrentController.Frame.createStatusIndicator()
  progress.start("Ramwright", nRows - 1)
  head = CsvLine(sheet, 0, nColumns)
  rams = OwnRams(document)
  For i = 1 To nRows - 1
    progress.setText("Ramwright: row " & i & " of " & (nRows - 1) & ", " & nFailed & " with a problem")
    progress.setValue(i)
    answer = Post(head & CsvLine(sheet, i, nColumns), rams)
    lines = Split(answer, Chr(13) & Chr(10))
    If Left(answer, 6) = "#ERROR" Or UBound(lines) < 2 Then
      MarkRow(sheet, i, nColumns, answer)
      nFailed = nFailed + 1
    Else
      WriteLine(sheet, 0, nColumns, lines(0), lines(0))
      nFailed = nFailed + WriteLine(sheet, i, nColumns, lines(0), lines(1))
    End If
  Next i
  progress.end()
  RamwrightRowsIn = (nRows - 1) & " rows, " & nFailed & " with a problem"
End Function

' Columns up to that of an earlier answer, and the rows with the head.
Function InputColumns(sheet As Object, nRows As Long) As Long
  Dim cursor As Object, nColumns As Long, nFound As Long
  cursor = sheet.createCursorByRange(sheet.getCellByPosition(0, 0))
  cursor.collapseToCurrentRegion()
  nRows = cursor.RangeAddress.EndRow + 1
  nColumns = cursor.RangeAddress.EndColumn + 1
  Do While nFound < nColumns
    If LCase(Trim(sheet.getCellByPosition(nFound, 0).String)) = "status" Then Exit Do
    nFound = nFound + 1
  Loop
  If sheet.getCellByPosition(0, 0).String = "" Or nFound = 0 Then nRows = 0
  InputColumns = nFound
End Function

Function CsvLine(sheet As Object, nRow As Long, nColumns As Long) As String
  Dim j As Long, cell As Object, text As String, line As String
  For j = 0 To nColumns - 1
    cell = sheet.getCellByPosition(j, nRow)
    text = cell.String
    ' Numbers with a decimal point, whatever the country's settings are.
    If cell.Type = com.sun.star.table.CellContentType.VALUE Then text = Trim(Str(cell.Value))
    If cell.Type = com.sun.star.table.CellContentType.FORMULA Then
      If cell.FormulaResultType2 = com.sun.star.sheet.FormulaResult.VALUE Then text = Trim(Str(cell.Value))
    End If
    If j > 0 Then line = line & ","
    line = line & Chr(34) & Replace(text, Chr(34), Chr(34) & Chr(34)) & Chr(34)
  Next j
  CsvLine = line & Chr(13) & Chr(10)
End Function

' The own rams as CSV; nothing if there are none, and what is wrong if their sheet is not there.
Function OwnRams(document As Object) As String
  Dim sheet As Object, nRows As Long, nColumns As Long, i As Long, text As String
  OwnRams = ""
  If CATALOGUE_SHEET = "" Then Exit Function
  If Not document.Sheets.hasByName(CATALOGUE_SHEET) Then
    OwnRams = "#ERROR: there is no sheet " & CATALOGUE_SHEET
    Exit Function
  End If
  sheet = document.Sheets.getByName(CATALOGUE_SHEET)
  nColumns = InputColumns(sheet, nRows)
  For i = 0 To nRows - 1
    text = text & CsvLine(sheet, i, nColumns)
  Next i
  OwnRams = text
End Function

Function FormPart(part As String, text As String) As String
  Dim nl As String
  nl = Chr(13) & Chr(10)
  FormPart = "--" & BOUNDARY & nl & "Content-Disposition: form-data; name=" & Chr(34) & part & Chr(34) & nl & nl & text & nl
End Function

Function Post(table As String, rams As String) As String
  Dim broker As Object, content As Object, source As Object, sink As Object, writer As Object, reader As Object
  Dim command As New com.sun.star.ucb.Command
  Dim argument As New com.sun.star.ucb.PostCommandArgument2
  Dim answer As String, url As String, body As String, kind As String
  If Left(rams, 6) = "#ERROR" Then
    Post = rams
    Exit Function
  End If
  body = table
  kind = "text/csv"
  If CATALOGUE_SHEET <> "" Then
    body = FormPart("table", table) & FormPart("rams", rams) & "--" & BOUNDARY & "--" & Chr(13) & Chr(10)
    kind = "multipart/form-data; boundary=" & BOUNDARY
  End If
  On Error GoTo failed
  url = ADDRESS & "/v1/quick/" & ENQUIRY & "?dialect=plain&errors=cell"
  broker = createUnoService("com.sun.star.ucb.UniversalContentBroker")
  content = broker.queryContent(broker.createContentIdentifier(url))
  source = createUnoService("com.sun.star.io.Pipe")
  sink = createUnoService("com.sun.star.io.Pipe")
  writer = createUnoService("com.sun.star.io.TextOutputStream")
  writer.setOutputStream(source)
  writer.setEncoding("UTF-8")
  writer.writeString(body)
  source.closeOutput()
  argument.Source = source
  argument.Sink = sink
  argument.MediaType = kind
  command.Name = "post"
  command.Handle = -1
  command.Argument = argument
  content.execute(command, 0, Nothing)
  reader = createUnoService("com.sun.star.io.TextInputStream")
  reader.setInputStream(sink)
  reader.setEncoding("UTF-8")
  Do While Not reader.isEOF()
    answer = answer & reader.readLine() & Chr(13) & Chr(10)
  Loop
  If answer = "" Then answer = "#ERROR: no answer from " & ADDRESS
  Post = answer
  Exit Function
failed:
  Post = "#ERROR: no answer from " & ADDRESS & ": " & Error$
End Function

' Writes the answer's own columns of one line; 1 if the row has a problem.
Function WriteLine(sheet As Object, nRow As Long, nColumns As Long, head As String, line As String) As Long
  Dim heads As Variant, cells As Variant, first As Long, at As Long, cell As Object
  heads = Split(head, ",")
  cells = Split(line, ",")
  first = 0
  Do While first < UBound(heads) And heads(first) <> "status"
    first = first + 1
  Loop
  For at = first To UBound(cells)
    cell = sheet.getCellByPosition(nColumns + at - first, nRow)
    If IsPlainNumber(cells(at)) Then
      cell.Value = Val(cells(at))
    Else
      cell.String = cells(at)
    End If
  Next at
  cell = sheet.getCellByPosition(nColumns, nRow)
  cell.CellBackColor = -1
  WriteLine = 0
  If nRow > 0 And cell.String = "problem" Then
    cell.CellBackColor = RGB(255, 199, 206)
    WriteLine = 1
  End If
End Function

Sub MarkRow(sheet As Object, nRow As Long, nColumns As Long, message As String)
  Dim j As Long
  For j = 2 To 15
    sheet.getCellByPosition(nColumns + j, nRow).String = ""
  Next j
  sheet.getCellByPosition(nColumns, nRow).String = "problem"
  sheet.getCellByPosition(nColumns, nRow).CellBackColor = RGB(255, 199, 206)
  sheet.getCellByPosition(nColumns + 1, nRow).String = message
End Sub

' Digits with at most one point, a sign only in front or after the exponent's letter: 0.1.0 and 3-4 are none.
Function IsPlainNumber(text As String) As Boolean
  Dim i As Long, digits As Long, points As Long, letters As Long, one As String, before As String
  IsPlainNumber = False
  For i = 1 To Len(text)
    one = Mid(text, i, 1)
    Select Case one
      Case "0" To "9"
        digits = digits + 1
      Case "."
        points = points + 1
      Case "e", "E"
        letters = letters + 1
        If digits = 0 Then Exit Function
      Case "+", "-"
        If before <> "" And before <> "e" And before <> "E" Then Exit Function
      Case Else
        Exit Function
    End Select
    before = one
  Next i
  IsPlainNumber = digits > 0 And points <= 1 And letters <= 1
End Function
