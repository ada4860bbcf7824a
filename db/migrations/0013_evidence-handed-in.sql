CREATE TABLE "log_evidence" (
	"machine_id" text NOT NULL,
	"log_id" text NOT NULL,
	"site_id" text NOT NULL,
	"id" text NOT NULL,
	"column_name" text NOT NULL,
	"evidence" jsonb NOT NULL,
	"author" text NOT NULL,
	"created_at" timestamp with time zone DEFAULT now() NOT NULL,
	CONSTRAINT "log_evidence_machine_id_log_id_id_pk" PRIMARY KEY("machine_id","log_id","id")
);
--> statement-breakpoint
ALTER TABLE "log_evidence" ADD CONSTRAINT "log_evidence_machine_id_log_id_logs_machine_id_id_fk" FOREIGN KEY ("machine_id","log_id") REFERENCES "public"."logs"("machine_id","id") ON DELETE cascade ON UPDATE no action;